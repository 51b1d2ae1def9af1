#include "seatwright/scan/job_text.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "seatwright/job/kind_word.hpp"
#include "seatwright/job/writer.hpp"
#include "seatwright/survey/job_lines.hpp"

namespace seatwright::scan {
namespace {

class Writer : survey::JobLines {
  public:
    Writer(const Scan& scan, const Beside& beside) : JobLines(scan.units), s_(scan), beside_(beside) {}

    std::string text() {
        line(fmt::format("# A head out of a measured surface ({}, {}).", comment_text(s_.file), s_.format));
        line("# u is what the scatter of the points leaves; the scanner's own scale is not in it.");
        if (assumed().empty()) {
            line("# z is that of the seats as they are.");
        } else {
            line(
                "# A figure marked ASKED is not seen: it is made up and stands in head.assumed. Type the "
                "right one and");
            line("# take its key out there; until then nothing is written for the machine.");
        }
        title(s_.title);
        for (const auto& [key, value] : {std::pair{"shop", &beside_.shop}, {"fixture", &beside_.fixture}})
            if (!value->empty()) line(fmt::format("{} = {}", key, job::toml_string(*value)));
        line("");
        head();
        for (const auto& v : s_.valves) valve(v);
        notes(s_.repeats, s_.missing);
        forms();
        if (beside_.fixture.empty()) fixture();
        return take();
    }

  private:
    static job::Kind kind_of(const Valve& v) { return kind_or_named(v.kind, v.id); }

    std::vector<std::string> assumed() const {
        std::vector<std::string> out;
        for (const auto& v : s_.valves)
            if (!v.z.value) out.push_back(fmt::format("\"head.valve.{}.z\"", v.id));
        return out;
    }

    void head() {
        line("[head]");
        line(fmt::format("name = {}", job::toml_string(s_.title)));
        if (const auto open = assumed(); !open.empty())
            line(fmt::format("assumed = [{}]", fmt::join(open, ", ")));
        line(
            "surveyed = [\"head.bolt_holes\", \"head.bolt_hole_diameter\", \"head.obstacle\", "
            "\"head.valve\", "
            "\"guide\"]");
        if (s_.bolt_diameter.value) {
            line("bolt_holes = [");
            for (const auto& h : s_.holes)
                if (h.kind == survey::HoleKind::bolt)
                    line(fmt::format("    {:<28}# {}: {}",
                                     fmt::format("[{}, {}],", length(*h.x.value), length(*h.y.value)), h.id,
                                     u_words(std::max(h.x.u, h.y.u))));
            line("]");
            figure("bolt_hole_diameter", length(*s_.bolt_diameter.value), u_words(s_.bolt_diameter.u));
        } else {
            line("# bolt_holes: ASKED, none were made out");
        }
        plugs();
        for (const auto& h : s_.holes)
            if (h.kind == survey::HoleKind::other)
                line(fmt::format(
                    "# {}: {}, {}, diameter {}, leaning {:.2f} deg; an obstacle once it is known what it is",
                    h.id, length(*h.x.value), length(*h.y.value), length(*h.diameter.value), deg(h.lean)));
        line("");
    }

    // Without a length: as far as a cutter goes they are open.
    void plugs() {
        const auto is = [](const Hole& h) { return h.kind == survey::HoleKind::plug; };
        if (std::none_of(s_.holes.begin(), s_.holes.end(), is)) return;
        line("obstacle = [");
        for (const auto& h : s_.holes)
            if (is(h))
                line(fmt::format(
                    "    {{ name = {}, x = {}, y = {}, z = 0, diameter = {}, incline = {:.3f}, cant = {:.3f} "
                    "}},"
                    "  # where its axis leaves the deck, {}",
                    job::toml_string(h.id), length(*h.x.value), length(*h.y.value), length(*h.diameter.value),
                    deg(*h.incline.value) + 0.0, deg(*h.cant.value) + 0.0, u_words(std::max(h.x.u, h.y.u))));
        line("]");
    }

    void valve(const Valve& v) {
        line("[[head.valve]]");
        line(fmt::format("id = \"{}\"\ncylinder = {}", v.id, v.cylinder));
        figure("kind", fmt::format("\"{}\"", job::kind_word(kind_of(v))),
               v.kind ? "by the size of its seat: look" : "ASKED: its seat does not show it");
        figure("x", length(*v.x.value), u_words(v.x.u));
        figure("y", length(*v.y.value), u_words(v.y.u));
        if (v.z.value)
            figure("z", length(*v.z.value), u_words(v.z.u) + ", of its gauge circle as it is");
        else
            figure("z", length(v.z_taken),
                   "ASKED: its seat is not seen; this is that of those like it, or the deck");
        const auto angle = [&](const char* key, const Figure& f) {
            figure(key, fmt::format("{:.4f}", deg(*f.value) + 0.0), fmt::format("u = {:.2g} deg", deg(f.u)));
        };
        angle("incline", v.incline);
        angle("cant", v.cant);
        line(fmt::format("# by {} of its {}, {:.0f} deg of the turn{}", length(v.length),
                         v.pin ? "pin" : "bore", deg(v.arc), looked_at(v.confirmed_by)));
        if (v.gauge.value) {
            std::string facets;
            for (const auto& f : v.facets)
                facets += fmt::format("{}{:.2f} deg to {}", facets.empty() ? "" : ", ", deg(f.angle),
                                      length(f.outer));
            line(fmt::format("# seat: gauge {}, facets from {}: {}", length(*v.gauge.value),
                             length(v.facets.front().inner), facets));
        }
        line("");
    }

    static std::string looked_at(const std::string& by) {
        return by.empty() ? "" : "; looked at over its points and confirmed by " + comment_text(by);
    }

    // A pin's size is not its guide's.
    void forms() {
        for (const auto kind : job::both_kinds) {
            double sum = 0, u = 0, n = 0;
            for (const auto& v : s_.valves) {
                if (kind_of(v) != kind || v.pin || !v.bore.value) continue;
                sum += *v.bore.value;
                u = std::max(u, v.bore.u);
                ++n;
            }
            if (n == 0) continue;
            line(fmt::format("[guide.{}]", job::kind_word(kind)));
            figure("bore", length(sum / n), fmt::format("{} each, the mean of {:.0f}", u_words(u), n));
            line("");
        }
    }

    void fixture() {
        double low = 0, high = 0, left = 0, right = 0;
        for (const auto& v : s_.valves) {
            low = std::min(low, deg(*v.incline.value));
            high = std::max(high, deg(*v.incline.value));
            left = std::min(left, -deg(*v.cant.value));
            right = std::max(right, -deg(*v.cant.value));
        }
        line("[fixture]                       # takes in what is seen: put yours in its place");
        reach(low, high, left, right);
        line("plumb_limit = \"0.20 deg\"");
    }

    const Scan& s_;
    const Beside& beside_;
};

}  // namespace

std::optional<std::string> job_text(const Scan& scan, const Beside& beside) {
    if (scan.valves.empty()) return std::nullopt;
    return Writer(scan, beside).text();
}

}  // namespace seatwright::scan
