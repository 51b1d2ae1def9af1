// drawing for a terminal: the valves, the groups and what they were taken for, holes, what repeats, what is
// asked.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include "seatwright/brought/brought.hpp"
#include "seatwright/job/kind_word.hpp"
#include "seatwright/report/show.hpp"

namespace seatwright::brought {

using namespace report;

namespace {

std::string or_open(const survey::Figure& f, LengthUnit unit) {
    return f.value ? length(f.value, unit) : "asked";
}

std::string lean_of(const survey::Figure& f) {
    return f.value ? angle(f.value, 3) : "asked";
}

std::string sizes(const std::vector<double>& diameters, LengthUnit unit) {
    std::vector<std::string> all;
    all.reserve(diameters.size());
    for (const double d : diameters) all.push_back(length(d, unit));
    return fmt::format("{}", fmt::join(all, " "));
}

}  // namespace

std::string text_of(const drawing::Drawing& d, const TextStyle& style) {
    const std::string unit = unit_name(style.unit);
    Table valves({"valve, " + unit, "kind", "x", "y", "z", "incline, deg", "cant", "lean by ellipse",
                  "guide bore", "group"});
    for (const auto& v : d.valves)
        valves.row({v.id, v.kind ? job::kind_word(*v.kind) : "asked", length(v.x.value, style.unit),
                    length(v.y.value, style.unit), or_open(v.z, style.unit), lean_of(v.incline),
                    lean_of(v.cant), v.lean ? angle(v.lean, 2) : "–",
                    v.bore ? length(v.bore, style.unit) : "–", drawing::group_name(v.group)});
    std::string out = valves.text(style.table);
    Table groups({"group, " + unit, "circles", "how many", "taken for", "layers"});
    for (const auto& g : d.groups)
        groups.row({g.name.empty() ? "–" : g.name, sizes(g.diameters, style.unit), std::to_string(g.count),
                    g.what + (g.sure ? "" : " (in doubt)"), fmt::format("{}", fmt::join(g.layers, ", "))});
    out += "\n" + groups.text(style.table);
    Table holes({"hole, " + unit, "x", "y", "diameter", "group"});
    for (const auto& h : d.holes)
        if (h.kind != survey::HoleKind::other)
            holes.row({h.id, length(h.x.value, style.unit), length(h.y.value, style.unit),
                       length(h.diameter, style.unit), drawing::group_name(h.group)});
    if (!holes.empty()) out += "\n" + holes.text(style.table);
    Table repeats({"what repeats", "how", "chance that it is chance"});
    for (const auto& r : d.repeats)
        repeats.row({r.what, in_words(r.words, style.speech()), fmt::format("{:.1g}", r.chance)});
    if (!repeats.empty()) out += "\n" + repeats.text(style.table);
    if (!d.missing.empty()) out += "\n" + heading_text("Not in the drawing", style.table);
    int n = 1;
    for (const auto& m : d.missing)
        out += fmt::format("{}. {}: {}\n   {}\n", n++, in_words(m.what, style.speech()),
                           in_words(m.why, style.speech()), in_words(m.next, style.speech()));
    if (!d.missing.empty())
        out += "What is asked can be said: --name GROUP=WHAT, --end-for-end, --from-above, --units in|mm.\n";
    out += fmt::format("\n{} circles drawn in {}{}{}{}.\n", d.curves, d.drawn_in,
                       d.hidden > 0 ? fmt::format(", {} on layers frozen or off left out", d.hidden) : "",
                       d.in_paper > 0 ? fmt::format(", {} entities of paper space left out", d.in_paper) : "",
                       d.twice > 0 ? fmt::format(", {} places drawn more than once", d.twice) : "");
    return out;
}

}  // namespace seatwright::brought
