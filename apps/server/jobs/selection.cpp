#include "server/jobs/selection.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <sstream>

namespace seatwright::server {

namespace {

void check_valve(const job::Job& job, const std::string& option, const std::string& valve) {
    if (job.head.index_of(valve)) return;
    std::vector<std::string> ids;
    for (const auto& of : job.head.valves) ids.push_back(of.id);
    throw http_error(
        400, fmt::format("{}: the head has no valve '{}'; it has {}", option, valve, fmt::join(ids, ", ")));
}

std::vector<std::string> between_commas(const std::string& text) {
    std::vector<std::string> parts;
    std::istringstream in(text);
    for (std::string part; std::getline(in, part, ',');)
        if (std::find(parts.begin(), parts.end(), part) == parts.end()) parts.push_back(part);
    return parts;
}

}  // namespace

job::Selection selection_of(Call& call, const StoredJob& stored) {
    const std::string from = call.query("from"), only = call.query("only");
    job::Selection selection;
    if (from.empty() && only.empty()) return selection;
    if (!from.empty() && !only.empty())
        throw http_error(400,
                         "from and only are not asked for together: a blade broke, or some seats are picked");
    if (!from.empty()) selection.from = from;
    selection.only = between_commas(only);
    if (!stored.document) return selection;  // what cannot be read is said by the stages
    if (selection.from) check_valve(*stored.document, "from", *selection.from);
    for (const auto& valve : selection.only) check_valve(*stored.document, "only", valve);
    return selection;
}

std::string part_key(const job::Selection& selection) {
    if (selection.whole()) return "";
    return selection.from ? "\nfrom\n" + *selection.from
                          : fmt::format("\nonly\n{}", fmt::join(selection.only, "\n"));
}

job::Selection selection_of_key(const std::string& key) {
    std::vector<std::string> lines;
    std::istringstream in(key);
    for (std::string line; std::getline(in, line);) lines.push_back(line);
    job::Selection selection;
    if (lines.size() < 3) return selection;
    if (lines[1] == "from")
        selection.from = lines[2];
    else
        selection.only.assign(lines.begin() + 2, lines.end());
    return selection;
}

}  // namespace seatwright::server
