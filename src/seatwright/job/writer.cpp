#include "seatwright/job/writer.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/job/quantity.hpp"
#include "seatwright/toml/strings.hpp"

namespace seatwright::job {
namespace {

// Twelve figures: finer than any gauge, and short where the value was typed short.
std::string figure(double value) {
    return fmt::format("{:.12g}", value + 0.0);
}

class TableText {
  public:
    TableText(const char* name, LengthUnit units) : units_(units) { out_ = fmt::format("[[{}]]\n", name); }

    void literal(const char* key, const std::string& value) { out_ += fmt::format("{} = {}\n", key, value); }
    void text(const char* key, const std::string& value) { literal(key, toml_string(value)); }
    void length(const char* key, double mm) { literal(key, toml_length(mm, units_)); }
    void length(const char* key, const std::optional<double>& mm) {
        if (mm) length(key, *mm);
    }
    void angle(const char* key, double rad) { literal(key, fmt::format("\"{} deg\"", figure(deg(rad)))); }
    void lengths(const char* key, const std::vector<double>& values) {
        std::string list;
        for (const double v : values) list += (list.empty() ? "" : ", ") + toml_length(v, units_);
        if (!values.empty()) literal(key, "[" + list + "]");
    }
    std::string take() { return std::move(out_); }

  private:
    LengthUnit units_;
    std::string out_;
};

template <class Reading>
TableText begin_table(const char* name, const Reading& reading, LengthUnit units) {
    TableText table(name, units);
    table.text("head", reading.head);
    table.text("valve", reading.valve);
    if (reading.sure) table.literal("sure", "true");
    if (!reading.date.empty()) table.text("date", reading.date);
    if (!reading.by.empty()) table.text("by", reading.by);
    return table;
}

std::string names_of(const GaugesUsed& gauges) {
    std::string out;
    for (const auto& [key, name] : {std::pair{"runout", &gauges.runout}, std::pair{"width", &gauges.width},
                                    std::pair{"stem_height", &gauges.stem_height}})
        if (!name->empty()) out += fmt::format("{}{} = {}", out.empty() ? "" : ", ", key, toml_string(*name));
    return "{ " + out + " }";
}

}  // namespace

std::string toml_length(double mm, LengthUnit units) {
    return figure(to_bare(mm, Dimension::length, units));
}

std::string toml_string(std::string_view text) {
    return toml::quoted(text);
}

std::string to_toml(const Touch& reading, LengthUnit units) {
    TableText t = begin_table("reading.touch", reading, units);
    t.length("x", reading.at.x());
    t.length("y", reading.at.y());
    t.length("sd", reading.sd);
    if (reading.keep) t.literal("keep", "true");
    return t.take();
}

std::string to_toml(const Level& reading, LengthUnit units) {
    TableText t = begin_table("reading.level", reading, units);
    t.text("across", reading.across == Across::cant ? "cant" : "incline");
    t.angle("first", reading.first);
    if (reading.second) t.angle("second", *reading.second);
    return t.take();
}

std::string to_toml(const GuideBore& reading, LengthUnit units) {
    TableText t = begin_table("reading.guide", reading, units);
    t.length("top", reading.top);
    t.length("middle", reading.middle);
    t.length("bottom", reading.bottom);
    return t.take();
}

std::string to_toml(const SeatBefore& reading, LengthUnit units) {
    TableText t = begin_table("reading.seat", reading, units);
    t.length("stem_height", reading.stem_height);
    t.length("recession", reading.recession);
    t.length("cleanup", reading.cleanup);
    if (reading.chamber) t.literal("chamber", fmt::format("\"{} cm3\"", figure(*reading.chamber / 1000)));
    std::string points;
    for (const auto& p : reading.section)
        points += fmt::format("{}[{}, {}]", points.empty() ? "" : ", ", toml_length(p.x(), units),
                              toml_length(p.y(), units));
    if (!points.empty()) t.literal("section", "[" + points + "]");
    t.length("rest_z", reading.rest_z);
    t.length("below_deck", reading.below_deck);
    t.length("face_outside", reading.face_outside);
    t.length("face_width", reading.face_width);
    if (reading.valve_used == SeatBefore::ValveUsed::setting) t.text("valve_used", "setting");
    if (reading.after_deck_cut) t.literal("after_deck_cut", "true");
    return t.take();
}

std::string to_toml(const FirstSeat& reading, LengthUnit units) {
    TableText t = begin_table("reading.first", reading, units);
    t.length("depth", reading.depth);
    t.length("stem_height", reading.stem_height);
    t.length("below_deck", reading.below_deck);
    t.text("trimmed", reading.trimmed == TrimmedAt::control ? "control" : "file");
    if (reading.plan != AfterFirst::open)
        t.text("plan", reading.plan == AfterFirst::anew ? "anew" : "shifted");
    t.length("planned", reading.planned);
    t.length("gauge_u", reading.gauge_u);
    return t.take();
}

std::string to_toml(const SeatAfter& reading, LengthUnit units) {
    TableText t = begin_table("reading.proof", reading, units);
    t.lengths("trace", reading.trace);
    std::string angles;
    for (const double a : reading.angles) angles += (angles.empty() ? "" : ", ") + figure(deg(a));
    if (!angles.empty()) t.literal("angles", "[" + angles + "]");
    t.length("runout", reading.runout);
    t.lengths("width", reading.width);
    t.length("stem_height", reading.stem_height);
    if (reading.vacuum) t.literal("vacuum", fmt::format("\"{} kPa\"", figure(*reading.vacuum)));
    t.length("gauge_u", reading.gauge_u);
    t.length("resolution", reading.resolution);
    if (!reading.gauge.empty()) t.text("gauge", reading.gauge);
    if (reading.gauges.any()) t.literal("gauge", names_of(reading.gauges));
    if (!reading.calibrated.empty()) t.text("calibrated", reading.calibrated);
    if (!reading.cutter.empty()) t.text("cutter", reading.cutter);
    if (!reading.accepted_by.empty()) t.text("accepted_by", reading.accepted_by);
    if (reading.vacuum_after)
        t.literal("vacuum_after", fmt::format("\"{} kPa\"", figure(*reading.vacuum_after)));
    if (reading.vacuum_seconds) t.literal("vacuum_seconds", figure(*reading.vacuum_seconds));
    return t.take();
}

}  // namespace seatwright::job
