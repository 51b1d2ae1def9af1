// scan for a terminal: valves with their uncertainty and how much of each is seen, seats, holes, what
// repeats, what was expected and is not seen.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include "seatwright/brought/brought.hpp"
#include "seatwright/job/kind_word.hpp"
#include "seatwright/report/show.hpp"

namespace seatwright::brought {

using namespace report;

std::string text_of(const scan::Scan& s, const TextStyle& style) {
    const std::string unit = unit_name(style.unit);
    Table valves({"guide, " + unit, "kind", "x", "y", "z", "u x, y", "u z", "incline, deg", "cant", "u",
                  "seen", "of the turn, deg"});
    for (const auto& v : s.valves)
        valves.row(
            {v.id, v.kind ? job::kind_word(*v.kind) : "asked", length(v.x.value, style.unit),
             length(v.y.value, style.unit), v.z.value ? length(v.z.value, style.unit) : "asked",
             length(std::max(v.x.u, v.y.u), style.unit), v.z.value ? length(v.z.u, style.unit) : "–",
             angle(v.incline.value, 3), angle(v.cant.value, 3), angle(std::max(v.incline.u, v.cant.u), 4),
             length(v.length, style.unit) + (v.pin ? " (pin)" : ""), fmt::format("{:.0f}", deg(v.arc))});
    std::string out = valves.empty() ? "" : valves.text(style.table);
    Table seats({"seat, " + unit, "guide bore", "gauge", "u", "face, deg", "from", "to", "facets, deg"});
    for (const auto& v : s.valves) {
        std::string facets, from = "–", to = "–";
        for (const auto& f : v.facets) {
            facets += fmt::format("{}{:.1f}", facets.empty() ? "" : " ", deg(f.angle));
            if (!f.face) continue;
            from = length(f.inner, style.unit);
            to = length(f.outer, style.unit);
        }
        seats.row({v.id, v.pin ? "pin" : length(v.bore.value, style.unit),
                   v.gauge.value ? length(v.gauge.value, style.unit) : "not seen",
                   v.gauge.value ? length(v.gauge.u, style.unit) : "–",
                   v.seat_angle.value ? angle(v.seat_angle.value, 2) : "–", from, to, facets});
    }
    if (!seats.empty()) out += "\n" + seats.text(style.table);
    Table holes({"hole, " + unit, "x", "y", "diameter", "u", "lean, deg", "seen"});
    for (const auto& h : s.holes)
        holes.row({h.id, length(h.x.value, style.unit), length(h.y.value, style.unit),
                   length(h.diameter.value, style.unit), length(std::max(h.x.u, h.y.u), style.unit),
                   angle(h.lean, 2), length(h.length, style.unit)});
    if (!holes.empty()) out += "\n" + holes.text(style.table);
    Table chambers({"opening in the deck over, " + unit, "length along X", "across", "u of its edge"});
    for (const auto& c : s.chambers) {
        Vec2 low = c.outline.front(), high = low;
        for (const auto& p : c.outline) {
            low = low.cwiseMin(p);
            high = high.cwiseMax(p);
        }
        chambers.row({fmt::format("{}", fmt::join(c.valves, ", ")), length(high.x() - low.x(), style.unit),
                      length(high.y() - low.y(), style.unit), length(c.u, style.unit)});
    }
    if (!chambers.empty()) out += "\n" + chambers.text(style.table);
    Table repeats({"what repeats", "how", "chance that it is chance"});
    for (const auto& r : s.repeats)
        repeats.row({r.what, in_words(r.words, style.speech()), fmt::format("{:.1g}", r.chance)});
    if (!repeats.empty()) out += "\n" + repeats.text(style.table);
    if (!s.missing.empty())
        out += "\n" + heading_text("Expected and not seen, and what is asked", style.table);
    int n = 1;
    for (const auto& m : s.missing)
        out += fmt::format("{}. {}: {}\n   {}\n", n++, in_words(m.what, style.speech()),
                           in_words(m.why, style.speech()), in_words(m.next, style.speech()));
    if (!s.missing.empty()) out += "What is asked can be said: --end-for-end, --units in|mm.\n";
    out += fmt::format(
        "\n{:.0f} points ({}){}{}, {:.0f} of them on the deck or a feature; deck: {:.0f}, rms {} {}. {:.2f} "
        "s.\n",
        s.points, s.format,
        s.repeated > 0 ? fmt::format(", {:.0f} corners named again left out", s.repeated) : "",
        s.not_numbers > 0 ? fmt::format(", {:.0f} that are no places left out", s.not_numbers) : "",
        s.inliers, s.deck_points, length(s.deck_rms, style.unit), unit, s.seconds);
    return out;
}

}  // namespace seatwright::brought
