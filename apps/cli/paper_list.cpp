#include "cli/paper_list.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "cli/files.hpp"
#include "seatwright/base/version.hpp"

namespace seatwright::cli {

namespace {

using nlohmann::ordered_json;

constexpr std::size_t most_list_bytes = std::size_t{256} << 20;

std::string json_word(const ordered_json& table, const char* key) {
    const auto at = table.find(key);
    return at != table.end() && at->is_string() ? at->get<std::string>() : std::string();
}

}  // namespace

bool PaperList::ours(const std::string& name, const std::string& sha256) const {
    return std::any_of(papers.begin(), papers.end(), [&](const ListedPaper& paper) {
        return paper.name == name && paper.sha256 == sha256;
    });
}

std::string text_of(const PaperList& list) {
    ordered_json papers = ordered_json::array();
    for (const ListedPaper& paper : list.papers)
        papers.push_back({{"name", paper.name},
                          {"sha256", paper.sha256},
                          {"digest", paper.digest},
                          {"set", paper.set},
                          {"role", paper.role}});
    ordered_json firsts = ordered_json::array();
    for (const ListedFirst& first : list.firsts)
        firsts.push_back({{"head", first.head},
                          {"valve", first.valve},
                          {"figure", first.figure},
                          {"planned_mm", first.planned}});
    const bool whole = list.state == PaperList::State::whole;
    const ordered_json out{{"seatwright", version},
                           {"state", whole ? "whole" : "being replaced"},
                           {"papers", papers},
                           {"job", list.job},
                           {"first_seats", firsts}};
    return out.dump(2, ' ', false, ordered_json::error_handler_t::replace) + "\n";
}

PaperList list_of(std::string_view text) {
    const auto json = ordered_json::parse(text, nullptr, false);
    PaperList list;
    if (!json.is_object() || !json.contains("papers") || !json["papers"].is_array()) return list;
    if (json_word(json, "state") == "being replaced") list.state = PaperList::State::being_replaced;
    for (const auto& paper : json["papers"]) {
        if (!paper.is_object()) continue;
        ListedPaper one{json_word(paper, "name"), json_word(paper, "sha256"), json_word(paper, "digest"),
                        json_word(paper, "set"), json_word(paper, "role")};
        // A list is only a text in a folder: a name that leads elsewhere is not followed.
        if (!one.name.empty() && one.name.find('/') == std::string::npos)
            list.papers.push_back(std::move(one));
    }
    list.job = json_word(json, "job");
    const auto firsts = json.find("first_seats");
    if (firsts == json.end() || !firsts->is_array()) return list;
    for (const auto& first : *firsts) {
        if (!first.is_object()) continue;
        const auto planned = first.find("planned_mm");
        if (planned == first.end() || !planned->is_number()) continue;
        list.firsts.push_back({json_word(first, "head"), json_word(first, "valve"),
                               json_word(first, "figure"), planned->get<double>()});
    }
    return list;
}

PaperList list_in(const std::filesystem::path& folder) {
    const auto text = read_file(folder / paper_list_name, most_list_bytes);
    return text ? list_of(*text) : PaperList{};
}

}  // namespace seatwright::cli
