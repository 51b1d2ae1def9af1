// survey for a terminal: the valves with their uncertainty, then holes, setups, what repeats, what to read
// next.
#include <fmt/format.h>

#include "seatwright/brought/brought.hpp"
#include "seatwright/report/show.hpp"

namespace seatwright::brought {

using namespace report;

namespace {

using survey::Figure;

std::string place(const Figure& f, LengthUnit unit) {
    return f.value ? length(f.value, unit) : "open";
}

std::string lean(const Figure& f) {
    return f.value ? angle(f.value, 3) : "open";
}

std::string larger_u(const Figure& a, const Figure& b, LengthUnit unit) {
    return a.value && b.value ? length(std::max(a.u, b.u), unit) : "–";
}

std::string valves_text(const survey::Survey& s, const TextStyle& style) {
    const std::string unit = unit_name(style.unit);
    Table table({"guide, " + unit, "x", "y", "z", "u x, y", "u z", "incline, deg", "cant", "u", "setup"});
    for (const auto& v : s.valves)
        table.row({v.id, place(v.x, style.unit), place(v.y, style.unit), place(v.z, style.unit),
                   larger_u(v.x, v.y, style.unit), v.z.value ? length(v.z.u, style.unit) : "–",
                   lean(v.incline), lean(v.cant),
                   v.incline.value && v.cant.value ? angle(std::max(v.incline.u, v.cant.u), 3) : "–",
                   v.setup.value_or("–")});
    return table.empty() ? "" : table.text(style.table);
}

std::string holes_text(const survey::Survey& s, const TextStyle& style) {
    Table table({"hole, " + std::string(unit_name(style.unit)), "x", "y", "diameter", "u", "is"});
    for (const auto& h : s.holes)
        table.row({h.id, place(h.x, style.unit), place(h.y, style.unit), length(h.diameter, style.unit),
                   larger_u(h.x, h.y, style.unit),
                   h.kind == survey::HoleKind::bolt   ? "bolt hole"
                   : h.kind == survey::HoleKind::plug ? "plug"
                                                      : "other"});
    return table.empty() ? "" : "\n" + table.text(style.table);
}

std::string setups_text(const survey::Survey& s, const TextStyle& style) {
    Table table(
        {"setup", "tilt, deg", "swing", "yaw", "places off, rms " + std::string(unit_name(style.unit))});
    for (const auto& x : s.setups)
        table.row({x.name, lean(x.tilt), lean(x.swing), lean(x.yaw), length(x.residual, style.unit)});
    return table.empty() ? "" : "\n" + table.text(style.table);
}

std::string repeats_text(const survey::Survey& s, const TextStyle& style) {
    Table table({"what repeats", "how", "chance that it is chance"});
    for (const auto& r : s.repeats)
        table.row({r.what, in_words(r.words, style.speech()), fmt::format("{:.1g}", r.chance)});
    return table.empty() ? "" : "\n" + table.text(style.table);
}

}  // namespace

std::string text_of(const survey::Survey& s, const TextStyle& style) {
    std::string out = valves_text(s, style) + holes_text(s, style) + setups_text(s, style);
    out += fmt::format("\nThe sensor's zero: {}.\n",
                       s.sensor_zero.value ? fmt::format("{} deg, u {}", angle(s.sensor_zero.value, 3),
                                                         angle(s.sensor_zero.u, 3))
                                           : "open");
    out += repeats_text(s, style);
    if (!s.missing.empty()) out += "\n" + heading_text("To read next, what helps most first", style.table);
    int n = 1;
    for (const auto& m : s.missing)
        out += fmt::format(
            "{}. {} ({})\n   {}\n   the valves' worst relative uncertainty falls by {:.3g} on average\n", n++,
            in_words(m.what, style.speech()), in_words(m.why, style.speech()),
            in_words(m.next, style.speech()), m.help);
    return out;
}

}  // namespace seatwright::brought
