#include "seatwright/report/two_ways.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "seatwright/report/show.hpp"

namespace seatwright::report {

namespace {

std::string depth_of(const shape::DepthWay::OfSeat& seat, LengthUnit unit) {
    return seat.insert ? std::string("INSERT") : length(seat.depth, unit);
}

std::string way_words(const char* name, const char* what, const shape::DepthWay& way, LengthUnit unit) {
    std::string out = fmt::format("{} ({}): all depths {}, {} deeper in total", name, what,
                                  length_with_unit(way.total, unit), length_with_unit(way.deeper, unit));
    return out + (way.breaks.empty()
                      ? std::string("; every limit kept")
                      : fmt::format("; {}", in_words(row(list_of(way.breaks, Join::semicolons)), {unit})));
}

}  // namespace

std::vector<TwoWaysRow> two_ways_rows(const job::Job& job, const shape::PlanAnew& ways, LengthUnit unit) {
    std::vector<TwoWaysRow> out;
    for (std::size_t i = 0; i < ways.shifted.seats.size(); ++i) {
        const std::size_t valve = ways.shifted.seats[i].valve;
        out.push_back({job.head.valves.at(valve).id, depth_of(ways.shifted.seats[i], unit),
                       depth_of(ways.anew.seats.at(i), unit),
                       std::find(ways.after.begin(), ways.after.end(), valve) != ways.after.end()});
    }
    return out;
}

std::vector<std::string> two_ways_words(const shape::PlanAnew& ways, LengthUnit unit) {
    std::vector<std::string> out{way_words("Shifted", "depths as planned, Z moved alone", ways.shifted, unit),
                                 way_words("Anew", "depths made around what is cut", ways.anew, unit)};
    const std::string chosen = word_of(ways.chosen);
    out.push_back(chosen.empty() ? std::string("Not chosen yet: the files of these seats wait for it")
                                 : "Chosen: " + chosen);
    return out;
}

std::string two_ways_text(const job::Job& job, const shape::PlanAnew& ways, const TextStyle& style) {
    Table table({"valve", "shifted", "anew", ""});
    for (const auto& row : two_ways_rows(job, ways, style.unit))
        table.row({row.id, row.shifted, row.anew, row.cut ? "cut, as measured" : ""});
    std::string out =
        heading_text(fmt::format("{}, {}", two_ways_heading, unit_name(style.unit)), style.table) +
        table.text(style.table);
    for (const auto& words : two_ways_words(ways, style.unit)) out += words + '\n';
    return out;
}

std::string word_of(job::AfterFirst chosen) {
    if (chosen == job::AfterFirst::open) return {};
    return chosen == job::AfterFirst::anew ? "anew" : "shifted";
}

}  // namespace seatwright::report
