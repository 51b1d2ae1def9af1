#include "seatwright/job/ranges.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <map>

#include "seatwright/job/measures.hpp"

namespace seatwright::job {
namespace {

using enum Dimension;

constexpr std::string_view memory = "from memory";
constexpr std::string_view service = "service data, common practice";
constexpr std::string_view practice = "common practice";
constexpr std::string_view manuals = "published manuals of engines and machines, twice the widest seen";
constexpr std::string_view body = "what the thing is";

// Spacings 75 to 185 mm, heads to about 2.2 m (twelve cylinders in a row): coordinates to twice that.
constexpr double along = 4500, across = 450;
// Tables of seat machines travel to about 2 m.
constexpr double table_reach = 2500;
constexpr double atmosphere = 105;  // kPa, on a day of high pressure: no vacuum is more

constexpr auto table = std::to_array<Plausible>({
    {"head.mass", "the mass of a head", 0.5, 500, mass, memory},
    {"head.bore_diameter", "a cylinder bore", 25, 400, length, memory},
    {"head.chamber_area", "a chamber's opening", 3, 1000, area, memory},
    {"head.bolt_holes", "a bolt hole's place", -along, along, length, memory},
    {"head.bolt_hole_diameter", "a bolt hole", 4, 60, length, practice},
    {"head.obstacle[].x", "a place along a head", -along, along, length, memory},
    {"head.obstacle[].y", "a place across a head", -across, across, length, memory},
    {"head.obstacle[].z", "a place in a head", -300, 300, length, memory},
    {"head.obstacle[].diameter", "a plug or injector hole", 1, 100, length, practice},
    {"head.pattern.bore_spacing", "the distance from cylinder to cylinder", 30, 370, length, memory},
    {"head.pattern.valve[].x", "a valve's place from its cylinder's centre", -200, 200, length, memory},
    {"head.pattern.valve[].y", "a valve's place from its cylinder's centre", -200, 200, length, memory},
    {"head.pattern.valve[].z", "a seat's height from the deck", -120, 120, length, memory},
    {"head.valve[].x", "a place along a head", -along, along, length, memory},
    {"head.valve[].y", "a place across a head", -across, across, length, memory},
    {"head.valve[].z", "a seat's height from the deck", -120, 120, length, memory},
    {"valve.*.head_diameter", "a valve head", 9, 150, length, memory},
    {"valve.*.stem_diameter", "a valve stem", 2, 26, length, memory},
    {"valve.*.margin", "a valve's margin", 0.1, 8, length, manuals},
    {"seat.*.width", "a seat's width", 0.3, 7, length, manuals},
    {"seat.*.inset", "an inset", -1, 6, length, practice},
    {"seat.*.contact_diameter", "a contact diameter", 8, 150, length, memory},
    {"seat.*.top[].width", "a facet's width", 0.05, 20, length, practice},
    {"seat.*.throat[].width", "a facet's width", 0.05, 25, length, practice},
    {"seat.*.width_tol", "a tolerance on the seat's width", 0.004, 2, length, practice},
    {"seat.*.runout_max", "a limit of runout", 0.0025, 0.5, length, manuals},
    {"seat.*.stem_height", "a stem height", 10, 200, length, service},
    {"seat.*.stem_height_min", "a stem height", 10, 200, length, service},
    {"seat.*.stem_height_max", "a stem height", 10, 200, length, service},
    {"seat.*.recession_min", "a limit of recession", -5, 5, length, manuals},
    {"seat.*.recession_max", "a limit of recession", -5, 5, length, manuals},
    {"seat.*.below_deck", "a valve's depth below the deck", -10, 80, length, memory},
    {"seat.*.below_deck_min", "a valve's depth below the deck", -10, 80, length, memory},
    {"seat.*.below_deck_max", "a valve's depth below the deck", -10, 80, length, memory},
    {"seat.*.finish.stem_height", "a stem height", 10, 200, length, service},
    {"seat.*.finish.below_deck", "a valve's depth below the deck", -10, 80, length, memory},
    {"seat.*.finish.recession", "a recession", -3, 3, length, manuals},
    {"seat.*.cleanup", "a cleanup", 0, 1, length, manuals},
    {"seat.*.tip_grind_max", "what may be ground off a tip", 0, 1, length, service},
    {"seat.*.spring_height", "a spring's installed height", 15, 150, length, service},
    {"seat.*.vacuum_min", "a vacuum", 0, atmosphere, vacuum, body},
    {"seat.*.vacuum_loss_max", "a loss of vacuum", 0, atmosphere, vacuum, body},
    {"seat.*.insert.outside", "a ring's outside", 10, 170, length, memory},
    {"seat.*.insert.inside", "a ring's inside", 6, 160, length, memory},
    {"seat.*.insert.depth", "a ring's depth", 2, 30, length, memory},
    {"seat.*.insert.interference", "a ring's interference", 0.005, 0.5, length, manuals},
    {"guide.*.bore", "a guide's bore", 2, 26, length, memory},
    {"guide.*.bore_max", "a guide's bore", 2, 26, length, memory},
    {"guide.*.bell_max", "a limit of bell-mouth", 0.001, 0.3, length, practice},
    {"guide.*.length", "a guide's length", 4, 250, length, memory},
    {"guide.*.mouth", "a guide's mouth", 2, 40, length, memory},
    {"guide.*.to_seat", "the way from guide to seat", 2, 250, length, memory},
    {"guide.*.below", "the room under a guide", 0, 1000, length, memory},
    {"guide.*.outside", "a guide's outside", 4, 60, length, memory},
    {"guide.*.interference", "a guide's interference", 0.002, 0.3, length, manuals},
    {"depth.step", "a step of depth", 0.0005, 0.5, length, practice},
    {"depth.stem_spread", "a spread of stem heights", 0, 3.5, length, service},
    {"depth.cleanup_margin", "a cleanup margin", 0, 1, length, practice},
    {"depth.deck_at", "a place on the deck", -along, along, length, memory},
    {"depth.block", "a setting block", 0.5, 300, length, practice},
    {"depth.feeler", "a feeler", 0, 2, length, practice},
    {"depth.seat[].depth", "a depth", 0, 1, length, manuals},
    {"depth.seat[].finish.stem_height", "a stem height", 10, 200, length, service},
    {"depth.seat[].finish.below_deck", "a valve's depth below the deck", -10, 80, length, memory},
    {"depth.seat[].finish.recession", "a recession", -3, 3, length, manuals},
    {"depth.deck_cut", "a deck cut", 0, 4, length, manuals},
    {"depth.bridge_min", "a bridge", 0, 12, length, memory},
    {"depth.spring_shims", "a spring shim", 0.05, 5, length, service},
    {"depth.lash_shim_step", "a step of lash shims", 0.002, 1, length, service},
    {"find.touch_sd", "a touch's error", 0.0002, 2, length, practice},
    {"find.casting_sd", "a casting's scatter", 0, 2, length, memory},
    {"find.positioning_sd", "a machine's positioning error", 0, 1, length, practice},
    {"reading.touch[].x", "a readout", -table_reach, table_reach, length, practice},
    {"reading.touch[].y", "a readout", -table_reach, table_reach, length, practice},
    {"reading.touch[].sd", "a touch's error", 0.0002, 5, length, practice},
    {"reading.level[].first", "the lean of a guide held plumb", -20, 20, angle, practice},
    {"reading.level[].second", "the lean of a guide held plumb", -20, 20, angle, practice},
    {"reading.guide[].top", "a guide's bore", 2, 26, length, memory},
    {"reading.guide[].middle", "a guide's bore", 2, 26, length, memory},
    {"reading.guide[].bottom", "a guide's bore", 2, 26, length, memory},
    {"reading.seat[].stem_height", "a stem height", 10, 200, length, service},
    {"reading.seat[].recession", "a recession", -0.5, 3, length, manuals},
    {"reading.seat[].cleanup", "a cleanup", 0, 1, length, manuals},
    {"reading.seat[].chamber", "a chamber's volume", 0.5, 2000, volume, memory},
    {"reading.seat[].rest_z", "a readout", -table_reach, table_reach, length, practice},
    {"reading.seat[].below_deck", "a valve's depth below the deck", -10, 80, length, memory},
    {"reading.seat[].face_outside", "an old seat face", 8, 160, length, memory},
    {"reading.seat[].face_width", "an old seat's width", 0.1, 15, length, manuals},
    {"reading.first[].depth", "a depth", -1, 1, length, manuals},
    {"reading.first[].stem_height", "a stem height", 10, 200, length, service},
    {"reading.first[].below_deck", "a valve's depth below the deck", -10, 80, length, memory},
    {"reading.first[].gauge_u", "a gauge's uncertainty", 0, 0.5, length, practice},
    {"reading.proof[].trace", "an indicator's reading", -10, 10, length, practice},
    {"reading.proof[].runout", "a runout", 0, 2, length, practice},
    {"reading.proof[].width", "a seat's width", 0.1, 10, length, manuals},
    {"reading.proof[].stem_height", "a stem height", 10, 200, length, service},
    {"reading.proof[].vacuum", "a vacuum", 0, atmosphere, vacuum, body},
    {"reading.proof[].vacuum_after", "a vacuum", 0, atmosphere, vacuum, body},
    {"reading.proof[].gauge_u", "a gauge's uncertainty", 0, 0.5, length, practice},
    {"reading.proof[].resolution", "a gauge's step", 0, 0.5, length, practice},
});

// A range in bare units, as the table has it, in memory units.
double in_memory(double bare, Dimension dimension) {
    return from_bare(bare, dimension, LengthUnit::mm);
}

// The number at the start of what was typed: "500 inHg" → "500".
std::string_view number_of(std::string_view typed) {
    const auto part = [](char c) {
        return std::isdigit(static_cast<unsigned char>(c)) != 0 || c == '.' || c == ',' || c == '-' ||
               c == '+' || c == '/' || c == ' ';
    };
    std::size_t end = 0;
    while (end < typed.size() && part(typed[end])) ++end;
    while (end > 0 && typed[end - 1] == ' ') --end;
    return typed.substr(0, end);
}

}  // namespace

std::span<const Plausible> plausible_ranges() {
    return table;
}

const Plausible* plausible_for(std::string_view key) {
    static const auto by_key = [] {
        std::map<std::string_view, const Plausible*> out;
        for (const auto& row : table) out.emplace(row.key, &row);
        return out;
    }();
    const auto at = by_key.find(key);
    return at == by_key.end() ? nullptr : at->second;
}

bool can_be(const Plausible& range, double value) {
    // An end that was typed may differ from the table's in the last bits of a conversion.
    constexpr double rounding = 1e-9;
    const double low = in_memory(range.low, range.dimension), high = in_memory(range.high, range.dimension);
    const double slack = rounding * std::max(std::abs(low), std::abs(high));
    return low - slack <= value && value <= high + slack;
}

std::string figure_words(double value, Dimension dimension, LengthUnit unit) {
    if (dimension == vacuum && unit == LengthUnit::inch)
        return fmt::format("{:.6g} inHg", value / kpa_per_inhg);
    const auto word = bare_unit_of(dimension, unit);
    return fmt::format("{:.6g}{}{}", to_bare(value, dimension, unit), word.empty() ? "" : " ", word);
}

std::optional<std::string_view> unit_that_fits(const Plausible& range, std::string_view typed,
                                               LengthUnit file_unit) {
    const std::string number(number_of(typed));
    const auto as_written = parse_quantity(typed, range.dimension, file_unit);
    const auto& m = measure(range.dimension);
    for (const auto& unit : all_units()) {
        if (!unit.shown || !fits(m, unit.base)) continue;
        const auto other = parse_quantity(number + " " + std::string(unit.text), range.dimension, file_unit);
        if (other && as_written && *other != *as_written && can_be(range, *other)) return unit.text;
    }
    return std::nullopt;
}

}  // namespace seatwright::job
