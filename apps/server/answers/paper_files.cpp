#include "server/answers/paper_files.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <map>

#include "seatwright/papers/bundle.hpp"
#include "seatwright/store/reading_tables.hpp"
#include "seatwright/words/english_server.hpp"

namespace seatwright::server {

namespace {

using job::Stage;

// Papers that are looked at page by page, without their ending.
const std::string sheet_name = "sheet", certificate_name = "certificate";
// Between the pages kept as one text; no XML document has one.
constexpr char page_end = '\f';

papers::BundleOptions options_of(const PaperQuery& query) {
    papers::BundleOptions options;
    options.unit = query.unit;
    options.paper = query.size;
    options.order = query.order;
    options.record = query.record;
    return options;
}

bool has_name(const std::vector<std::string>& names, const std::string& name) {
    return std::find(names.begin(), names.end(), name) != names.end();
}

// Every page of the sheet or the certificate, each ended by page_end.
const std::string& pages_of(Computation& computation, const std::string& which, const PaperQuery& query) {
    return computation.kept("pages/" + which + query.key(), [&] {
        const auto pages =
            which == sheet_name
                ? papers::sheet_pages(computation.job(), computation.whole(), options_of(query))
                : papers::proof_pages(computation.job(), computation.proof(), options_of(query));
        std::string all;
        for (const auto& page : pages) all += page + page_end;
        return all;
    });
}

// "certificate-2.svg" → "certificate", 2.
std::optional<std::pair<std::string, std::size_t>> page_named(const std::string& name) {
    constexpr std::string_view ending = ".svg";
    for (const auto& which : {sheet_name, certificate_name}) {
        if (!name.starts_with(which + "-") || !std::string_view(name).ends_with(ending)) continue;
        const char *start = name.data() + which.size() + 1, *end = name.data() + name.size() - ending.size();
        std::size_t number = 0;
        const auto [stop, fault] = std::from_chars(start, end, number);
        if (fault == std::errc{} && stop == end && number > 0) return std::pair(which, number);
    }
    return std::nullopt;
}

std::string page_bytes(Computation& computation, const std::string& which, std::size_t number,
                       const PaperQuery& query) {
    const std::string& all = pages_of(computation, which, query);
    std::size_t start = 0;
    for (std::size_t skipped = 1; skipped < number && start < all.size(); ++skipped)
        start = all.find(page_end, start) + 1;
    if (start >= all.size()) throw http_error(404, fmt::format("the {} has fewer pages", which));
    return all.substr(start, all.find(page_end, start) - start);
}

std::string title_of(Computation& computation, const std::string& name) {
    if (name == "sheet.pdf") return "Setup sheet";
    if (name == "certificate.pdf") return "Certificate of measurement";
    if (name == "plan.json") return "The plan as JSON";
    if (name == "proof.json") return "The proof as JSON";
    if (name == "results.csv") return "Measured values as a table";
    if (name.starts_with("map-")) return "Map of the guides as a table";
    if (is_program(computation, name)) return "Program";
    return "Form of the cutter to order";
}

Json paper_json(Computation& computation, const std::string& name, Stage stage, const PaperQuery& query) {
    Json pages = Json::array();
    for (const auto& which : {sheet_name, certificate_name}) {
        if (name != which + ".pdf") continue;
        const std::string& all = pages_of(computation, which, query);
        const auto count = std::count(all.begin(), all.end(), page_end);
        for (std::ptrdiff_t number = 1; number <= count; ++number)
            pages.push_back(fmt::format("{}-{}.svg", which, number));
    }
    return {{"name", name},
            {"title", title_of(computation, name)},
            {"stage", job::name_of(stage)},
            {"media", media_of_paper(name)},
            {"pages", std::move(pages)}};
}

}  // namespace

bool is_program(Computation& computation, const std::string& name) {
    if (!computation.needs(Stage::cut).empty()) return false;
    const auto& programs = computation.whole().cut.programs;
    return std::any_of(programs.begin(), programs.end(),
                       [&](const cut::Program& program) { return program.file == name; });
}

std::string name_taken_along(const Computation& computation, long long job, const std::string& file) {
    const bool short_names = computation.job().dialect.names == job::Dialect::Names::eight_three;
    return short_names && file.starts_with("program-") ? file : fmt::format("{}-{}", job, file);
}

std::string PaperQuery::form() const {
    return fmt::format("{} {}x{}", unit == LengthUnit::inch ? "in" : "mm", size.width_mm, size.height_mm);
}

std::string PaperQuery::key() const {
    return fmt::format("/{}/{}/{}", form(), order, record);
}

bool is_picture(const std::string& name) {
    return name.ends_with(".svg");
}

bool hangs_on_form(const std::string& name) {
    return name.ends_with(".pdf") || name.ends_with(".dxf");
}

bool is_of_proof(const std::string& name) {
    return has_name(papers::proof_papers(), name);
}

std::string record_of(const StoredJob& stored, bool limits_open) {
    constexpr std::size_t letters = 16;
    std::string words;
    if (!stored.entries.empty()) {
        const auto& last = stored.entries.back();
        words = fmt::format("entries {} {}", last.sequence, last.digest.substr(0, letters));
    }
    const Speech speech;  // papers are asked for in a unit, not in a language
    const auto of_file =
        std::count_if(stored.entries.begin(), stored.entries.end(), store::names_from_a_file);
    if (of_file > 0)
        words += ", " + in_words(sentence<"measured-as-a-file-says">("count"_is = of_file), speech);
    if (limits_open)
        words += (words.empty() ? "" : " · ") + in_words(sentence<"limits-not-accepted">(), speech);
    return words;
}

papers::PaperSize paper_size_named(const std::string& name) {
    if (name.empty() || name == "a4") return papers::a4;
    if (name == "letter") return papers::letter;
    throw http_error(400, "paper is a4 or letter");
}

Json papers_json(Computation& computation, const PaperQuery& query) {
    Json list = Json::array();
    if (computation.needs(Stage::cut).empty())
        for (const auto& name : papers::plan_papers(computation.job(), computation.whole()))
            list.push_back(paper_json(computation, name, Stage::cut, query));
    for (auto& paper : list) paper["digest"] = computation.whole().selection.digest;
    if (computation.needs(Stage::prove).empty())
        for (const auto& name : papers::proof_papers())
            list.push_back(paper_json(computation, name, Stage::prove, query));
    return {{"papers", std::move(list)}};
}

std::string paper_bytes(Computation& computation, const std::string& name, const PaperQuery& query) {
    if (!computation.readable()) throw http_error(422, "the job file cannot be read as it stands");
    if (const auto page = page_named(name)) return page_bytes(computation, page->first, page->second, query);
    const bool proof = is_of_proof(name);
    if (!proof && !has_name(papers::plan_papers(computation.job(), computation.whole()), name))
        throw http_error(404, "there is no such paper for this job");
    return computation.kept("paper/" + name + query.key(), [&] {
        auto bytes =
            proof ? papers::proof_paper(computation.job(), computation.proof(), options_of(query), name)
                  : papers::plan_paper(computation.job(), computation.whole(), options_of(query), name);
        if (!bytes) throw http_error(422, "the paper could not be drawn: " + bytes.error());
        return std::move(*bytes);
    });
}

std::string media_of_paper(const std::string& name) {
    static const std::map<std::string, std::string> media{{"pdf", "application/pdf"},
                                                          {"csv", "text/csv; charset=utf-8"},
                                                          {"json", "application/json"},
                                                          {"svg", "image/svg+xml"},
                                                          {"dxf", "image/vnd.dxf"}};
    const auto at = media.find(name.substr(name.rfind('.') + 1));
    return at == media.end() ? "text/plain; charset=utf-8" : at->second;
}

}  // namespace seatwright::server
