// One description of a head laid over another, as JSON and for a terminal.
#include <nlohmann/json.hpp>

#include "seatwright/brought/brought.hpp"
#include "seatwright/report/show.hpp"
#include "seatwright/words/bare_figure.hpp"
#include "seatwright/words/english_report.hpp"

namespace seatwright::brought {

using namespace report;

namespace {

using Json = nlohmann::ordered_json;

const double to_deg = 1 / rad_per_deg;

Json point(const Vec2& p) {
    return {number(p.x()), number(p.y())};
}

Sentence said_of(survey::Way way) {
    switch (way) {
        case survey::Way::same:
            return sentence<"as-declared">();
        case survey::Way::end_for_end:
            return sentence<"end-for-end">();
        case survey::Way::mirrored:
            return sentence<"mirrored">();
        case survey::Way::mirrored_end_for_end:
            return sentence<"mirrored-end-for-end">();
    }
    return {};
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
    std::string out;
    const auto say = [&](const Sentence& words) { out += in_words(words, style.speech()) + '\n'; };
    say(sentence<"laid-over">("way"_is = said_of(over.way), "holes"_is = over.bolts.size(),
                              "rms"_is = as_length(over.bolts_rms),
                              "worst"_is = as_bare_length(over.bolts_worst)));
    if (over.by_guides) say(sentence<"guides-decide">());
    std::vector<Sentence> ways;
    for (const auto way : over.as_well) ways.push_back(said_of(way));
    if (!ways.empty()) say(sentence<"fits-as-well">("ways"_is = list_of(ways, Join::with_and)));
    say(sentence<"turned-by">("yaw"_is = as_bare_degrees(over.yaw, 3),
                              "x"_is = as_bare_length(over.offset.x()),
                              "y"_is = as_bare_length(over.offset.y())));
    if (over.mine_alone + over.other_alone > 0)
        say(sentence<"holes-alone">("here"_is = over.mine_alone, "there"_is = over.other_alone));
    Table table({"guide, " + unit, "there", "x off", "y off", "z off", "incline off, deg", "cant off", ""});
    for (const auto& g : over.guides)
        table.row({g.mine, g.other, length(g.off.x(), style.unit), length(g.off.y(), style.unit),
                   g.z ? length(g.z, style.unit) : "–", g.incline ? angle(g.incline, 3) : "–",
                   g.cant ? angle(g.cant, 3) : "–", g.stands_out ? "stands out" : ""});
    if (!table.empty()) out += "\n" + table.text(style.table);
    if (!over.guides_alone.empty())
        say(sentence<"guides-alone">("guides"_is = list_of(over.guides_alone, Join::commas)));
    return out;
}

}  // namespace seatwright::brought
