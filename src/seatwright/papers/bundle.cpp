#include "seatwright/papers/bundle.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <nlohmann/json.hpp>

#include "seatwright/base/sha256.hpp"
#include "seatwright/job/kind_word.hpp"
#include "seatwright/papers/certificate/certificate.hpp"
#include "seatwright/papers/drawings/draw_section.hpp"
#include "seatwright/papers/drawings/dxf.hpp"
#include "seatwright/papers/sheet/sheet.hpp"
#include "seatwright/plan/digest.hpp"
#include "seatwright/report/brief.hpp"
#include "seatwright/report/map_csv.hpp"
#include "seatwright/report/report.hpp"
#include "seatwright/report/results_csv.hpp"
#include "seatwright/report/two_ways.hpp"

namespace seatwright::papers {

using namespace report;

namespace {

using nlohmann::ordered_json;

// Bytes that are not UTF-8 can come in by a name: replaced, never thrown over.
std::string printed(const ordered_json& json) {
    return json.dump(2, ' ', false, ordered_json::error_handler_t::replace) + "\n";
}

constexpr double form_margin = 15;  // mm round the form on its page

// Seats of that kind are to be cut and nothing on the shelf cuts them.
bool wants_cutter(const job::Job& job, const shape::Shape& shape, job::Kind kind) {
    return std::any_of(shape.seats.begin(), shape.seats.end(), [&](const shape::Seat& seat) {
        return job.head.valves[seat.valve].kind == kind && seat.decision != shape::Decision::not_allowed &&
               !seat.section.points.empty() && !seat.cutter;
    });
}

// What to send to whoever makes the blade: a picture (.svg), a page (.pdf), the edge at true size (.dxf).
tl::expected<std::string, std::string> form_paper(const job::Job& job, job::Kind kind,
                                                  const std::string& ending, const BundleOptions& options) {
    const std::string title = job.title + std::string(": form to order, ") + job::kind_word(kind) + " seats";
    SectionStyle style;
    style.unit = options.unit;
    const auto drawing = draw_form_to_order(job, kind, style);
    const auto edge = dxf_form_to_order(job, kind);
    if (!drawing || !edge) return tl::unexpected(std::string("the form of these seats is not known"));
    if (ending == ".dxf") return *edge;
    if (ending == ".svg") return drawing->document();
    Drawing page(options.paper.width_mm, options.paper.height_mm, title,
                 "The edge of the cutter that the shelf lacks, dimensioned.");
    page.place(*drawing, {form_margin, form_margin},
               (options.paper.width_mm - 2 * form_margin) / drawing->width());
    return pdf_of({page.document()}, options.paper, title);
}

constexpr std::array form_endings{".svg", ".pdf", ".dxf"};

std::string plan_json(const job::Job& job, const plan::Plan& plan) {
    auto json = json_frame(job, plan.notices_of_head());
    json["hold"] = json_of(job, plan.hold);
    json["find"] = json_of(job, plan.find);
    json["shape"] = json_of(job, plan.shape);
    json["cut"] = json_of(job, plan.cut);
    return printed(json);
}

std::string proof_json(const job::Job& job, const prove::Proof& proof) {
    auto json = json_frame(job, proof);
    join(json, json_of(job, proof));
    return printed(json);
}

// Every paper of `names`, made by `make`; or the first sentence why one could not be.
template <class Make>
tl::expected<std::vector<Paper>, std::string> all_of(const std::vector<std::string>& names, Make&& make) {
    std::vector<Paper> files;
    for (const auto& name : names) {
        auto bytes = make(name);
        if (!bytes) return tl::unexpected(bytes.error());
        files.push_back({name, std::move(*bytes), Paper::Role::paper});
    }
    return files;
}

tl::expected<std::string, std::string> no_such_paper(const std::string& name) {
    return tl::unexpected("there is no paper named " + name);
}

// `record`: proof_json of it.
tl::expected<std::string, std::string> proof_paper_of(const job::Job& job, const prove::Proof& proof,
                                                      const BundleOptions& options, const std::string& name,
                                                      const std::string& record) {
    if (name == "proof.json") return record;
    if (name == "results.csv") return results_csv(job, proof);
    if (name == "certificate.pdf")
        return pdf_of(certificate_pages(job, proof,
                                        {options.paper, options.unit, record, options.record, options.order,
                                         options.catalogue}),
                      options.paper, "Certificate of measurement: " + job.title);
    return no_such_paper(name);
}

// A draft is a paper to look at.
bool is_program(const plan::Plan& plan, const std::string& name) {
    return std::any_of(plan.cut.programs.begin(), plan.cut.programs.end(), [&](const cut::Program& program) {
        return program.file == name && !program.route.draft;
    });
}

std::vector<std::string> sheet_of(const job::Job& job, const plan::Plan& plan, const BundleOptions& options) {
    return setup_sheet(job, plan,
                       {options.paper, options.unit, options.record, options.order, options.catalogue});
}

// Every paper but the sheet.
tl::expected<std::string, std::string> plain_paper(const job::Job& job, const plan::Plan& plan,
                                                   const BundleOptions& options, const std::string& name) {
    if (name == "plan.json") return plan_json(job, plan);
    for (const auto& setup : plan.hold.setups)
        if (name == "map-" + setup.id + ".csv") return map_csv(job, setup, plan.cut);
    for (const auto& program : plan.cut.programs)
        if (name == program.file) return program.text;
    for (const auto kind : job::both_kinds)
        for (const std::string ending : form_endings)
            if (name == std::string("form-") + job::kind_word(kind) + ending)
                return form_paper(job, kind, ending, options);
    return no_such_paper(name);
}

tl::expected<std::string, std::string> sheet_paper(const job::Job& job, const plan::Plan& plan,
                                                   const BundleOptions& options) {
    return pdf_of(sheet_of(job, plan, options), options.paper, job.title + ": setup sheet");
}

}  // namespace

std::vector<std::string> plan_papers(const job::Job& job, const plan::Plan& plan) {
    std::vector<std::string> names{"plan.json"};
    for (const auto& setup : plan.hold.setups) names.push_back("map-" + setup.id + ".csv");
    for (const auto& program : plan.cut.programs) names.push_back(program.file);
    names.emplace_back("sheet.pdf");
    for (const auto kind : job::both_kinds)
        if (wants_cutter(job, plan.shape, kind) && draw_form_to_order(job, kind, {}) &&
            dxf_form_to_order(job, kind))
            for (const char* ending : form_endings)
                names.push_back(std::string("form-") + job::kind_word(kind) + ending);
    return names;
}

std::vector<std::string> proof_papers() {
    return {"proof.json", "certificate.pdf", "results.csv"};
}

std::vector<std::string> sheet_pages(const job::Job& job, const plan::Plan& plan,
                                     const BundleOptions& options) {
    return sheet_of(job, plan, options);
}

std::vector<std::string> proof_pages(const job::Job& job, const prove::Proof& proof,
                                     const BundleOptions& options) {
    return certificate_pages(job, proof,
                             {options.paper, options.unit, proof_json(job, proof), options.record,
                              options.order, options.catalogue});
}

tl::expected<std::string, std::string> plan_paper(const job::Job& job, const plan::Plan& plan,
                                                  const BundleOptions& options, const std::string& name) {
    if (name == "sheet.pdf") return sheet_paper(job, plan, options);
    return plain_paper(job, plan, options, name);
}

tl::expected<std::string, std::string> proof_paper(const job::Job& job, const prove::Proof& proof,
                                                   const BundleOptions& options, const std::string& name) {
    return proof_paper_of(job, proof, options, name, proof_json(job, proof));
}

tl::expected<Bundle, std::string> plan_bundle(const job::Job& job, const plan::Plan& plan,
                                              const prove::Proof& proof, const BundleOptions& options,
                                              const std::vector<plan::Failure>& failures) {
    Bundle bundle;
    bundle.stopped = plan::blocked(plan.notices_of_head());
    bundle.digest = plan.selection.digest;
    bundle.json = plan_json(job, plan);
    if (!options.text && options.extent == Extent::words) return bundle;
    if (options.text) {
        const TextStyle style{options.table, options.unit, options.catalogue};
        auto lines = brief(job, plan, proof, options.speech(), plan.shape.head);
        say_stopped(lines, failures, options.speech());
        bundle.text = text_of(job, lines, plan::with(plan.notices_of_head(), failures), style);
        if (const auto& anew = plan.shape.depth.anew) bundle.text += "\n" + two_ways_text(job, *anew, style);
    }
    if (options.extent == Extent::words) return bundle;
    auto files = all_of(plan_papers(job, plan), [&](const std::string& name) {
        return name == "sheet.pdf" ? sheet_paper(job, plan, options) : plain_paper(job, plan, options, name);
    });
    if (!files) return tl::unexpected(files.error());
    for (Paper& paper : *files)
        if (is_program(plan, paper.name)) paper.role = Paper::Role::program;
    bundle.files = std::move(*files);
    return bundle;
}

tl::expected<Bundle, std::string> proof_bundle(const job::Job& job, const prove::Proof& proof,
                                               const BundleOptions& options) {
    Bundle bundle;
    bundle.stopped = proof.verdict == prove::Verdict::fail || plan::blocked(proof);
    bundle.json = proof_json(job, proof);
    bundle.digest = sha256(bundle.json).substr(0, plan::digest_letters);
    if (!options.text && options.extent == Extent::words) return bundle;
    const TextStyle style{options.table, options.unit, options.catalogue};
    if (options.text)
        bundle.text = warnings_text(proof, style.speech(), options.table) + text_of(job, proof, style);
    if (options.extent == Extent::words) return bundle;
    auto files = all_of(proof_papers(), [&](const std::string& name) {
        return proof_paper_of(job, proof, options, name, bundle.json);
    });
    if (!files) return tl::unexpected(files.error());
    bundle.files = std::move(*files);
    return bundle;
}

}  // namespace seatwright::papers
