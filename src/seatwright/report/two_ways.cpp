#include "seatwright/report/two_ways.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "seatwright/report/said_figures.hpp"
#include "seatwright/report/show.hpp"
#include "seatwright/words/english_report.hpp"

namespace seatwright::report {

namespace {

std::string depth_of(const shape::DepthWay::OfSeat& seat, LengthUnit unit) {
    return seat.insert ? std::string("INSERT") : length(seat.depth, unit);
}

Part breaks_of(const shape::DepthWay& way) {
    if (way.breaks.empty()) return sentence<"every-limit-kept">();
    return list_of(way.breaks, Join::semicolons);
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

std::vector<Sentence> two_ways_words(const shape::PlanAnew& ways) {
    const auto total = [](const shape::DepthWay& way) { return "total"_is = length_said(way.total); };
    const auto deeper = [](const shape::DepthWay& way) { return "deeper"_is = length_said(way.deeper); };
    const auto breaks = [](const shape::DepthWay& way) { return "breaks"_is = breaks_of(way); };
    return {sentence<"way-shifted">(total(ways.shifted), deeper(ways.shifted), breaks(ways.shifted)),
            sentence<"way-anew">(total(ways.anew), deeper(ways.anew), breaks(ways.anew)),
            ways.chosen == job::AfterFirst::open   ? sentence<"not-chosen">()
            : ways.chosen == job::AfterFirst::anew ? sentence<"chosen-anew">()
                                                   : sentence<"chosen-shifted">()};
}

std::string two_ways_text(const job::Job& job, const shape::PlanAnew& ways, const TextStyle& style) {
    Table table({"valve", "shifted", "anew", ""});
    for (const auto& row : two_ways_rows(job, ways, style.unit))
        table.row({row.id, row.shifted, row.anew, row.cut ? "cut, as measured" : ""});
    std::string out =
        heading_text(fmt::format("{}, {}", two_ways_heading, unit_name(style.unit)), style.table) +
        table.text(style.table);
    for (const auto& words : in_words(two_ways_words(ways), style.speech())) out += words + '\n';
    return out;
}

std::string word_of(job::AfterFirst chosen) {
    if (chosen == job::AfterFirst::open) return {};
    return chosen == job::AfterFirst::anew ? "anew" : "shifted";
}

}  // namespace seatwright::report
