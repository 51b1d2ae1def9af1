// One description of a head laid over another, as JSON and for a terminal.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <nlohmann/json.hpp>

#include "seatwright/report/report.hpp"
#include "seatwright/report/show.hpp"

namespace seatwright::report {

namespace {

using Json = nlohmann::ordered_json;

const double to_deg = 1 / rad_per_deg;

Json point(const Vec2& p) {
    return {number(p.x()), number(p.y())};
}

}  // namespace

nlohmann::ordered_json json_of(const survey::LaidOver& over) {
    Json bolts = Json::array(), guides = Json::array(), as_well = Json::array();
    for (const auto way : over.as_well) as_well.push_back(survey::word_of(way));
    for (const auto& b : over.bolts)
        bolts.push_back({{"bolt", b.mine}, {"of_other", b.other}, {"off_mm", point(b.off)}});
    for (const auto& g : over.guides)
        guides.push_back({{"id", g.mine},
                          {"of_other", g.other},
                          {"off_mm", point(g.off)},
                          {"z_off_mm", number(g.z)},
                          {"incline_off_deg", number(g.incline, to_deg)},
                          {"cant_off_deg", number(g.cant, to_deg)},
                          {"stands_out", g.stands_out}});
    return {{"way", survey::word_of(over.way)},
            {"fits_as_well", std::move(as_well)},
            {"by_guides", over.by_guides},
            {"yaw_deg", number(over.yaw, to_deg)},
            {"offset_mm", point(over.offset)},
            {"bolts_rms_mm", number(over.bolts_rms)},
            {"bolts_worst_mm", number(over.bolts_worst)},
            {"bolts_alone", {over.mine_alone, over.other_alone}},
            {"bolts", std::move(bolts)},
            {"guides_rms_mm", number(over.guides_rms)},
            {"guides_worst_mm", number(over.guides_worst)},
            {"guides_alone", over.guides_alone},
            {"guides", std::move(guides)}};
}

std::string text_of(const survey::LaidOver& over, const TextStyle& style) {
    const std::string unit = unit_name(style.unit);
    std::string out = fmt::format(
        "The other lies on this one {}, by {} bolt holes: they differ by {} {} rms, {} at most.\n",
        survey::word_of(over.way), over.bolts.size(), length(over.bolts_rms, style.unit), unit,
        length(over.bolts_worst, style.unit));
    if (over.by_guides) out += "The bolt holes fit other ways as well; the guides decide.\n";
    std::vector<std::string> ways;
    for (const auto way : over.as_well) ways.emplace_back(survey::word_of(way));
    if (!ways.empty())
        out += fmt::format("It fits {} as well: look which end is which.\n", fmt::join(ways, " and "));
    out += fmt::format("Turned by {} deg; its origin comes to lie at {}, {}.\n", angle(over.yaw, 3),
                       length(over.offset.x(), style.unit), length(over.offset.y(), style.unit));
    if (over.mine_alone + over.other_alone > 0)
        out +=
            fmt::format("Holes without a partner: {} here, {} there.\n", over.mine_alone, over.other_alone);
    Table table({"guide, " + unit, "there", "x off", "y off", "z off", "incline off, deg", "cant off", ""});
    for (const auto& g : over.guides)
        table.row({g.mine, g.other, length(g.off.x(), style.unit), length(g.off.y(), style.unit),
                   g.z ? length(g.z, style.unit) : "–", g.incline ? angle(g.incline, 3) : "–",
                   g.cant ? angle(g.cant, 3) : "–", g.stands_out ? "stands out" : ""});
    if (!table.empty()) out += "\n" + table.text(style.table);
    if (!over.guides_alone.empty())
        out += fmt::format("Guides without a partner: {}.\n", fmt::join(over.guides_alone, ", "));
    return out;
}

}  // namespace seatwright::report
