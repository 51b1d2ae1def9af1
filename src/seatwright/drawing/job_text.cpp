#include "seatwright/drawing/job_text.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "seatwright/job/kind_word.hpp"
#include "seatwright/job/writer.hpp"
#include "seatwright/survey/job_lines.hpp"

namespace seatwright::drawing {
namespace {

class Writer : survey::JobLines {
  public:
    Writer(const Drawing& drawing, const Beside& beside)
        : JobLines(drawing.units), d_(drawing), beside_(beside) {}

    std::string text() {
        line(fmt::format("# A head out of a drawing ({}), drawn in {}.", comment_text(d_.file), d_.drawn_in));
        line("# u is what the drawing's decimals leave; how far castings stray from it is not in it.");
        line(
            "# A figure marked ASKED is not in the drawing: it is made up and stands in head.assumed. Type "
            "the");
        line("# right one and take its key out there; until then nothing is written for the machine.");
        title(d_.title);
        for (const auto& [key, value] : {std::pair{"shop", &beside_.shop}, {"fixture", &beside_.fixture}})
            if (!value->empty()) line(fmt::format("{} = {}", key, job::toml_string(*value)));
        line("");
        head();
        for (const auto& v : d_.valves) valve(v);
        notes(d_.repeats, d_.missing);
        forms();
        if (beside_.fixture.empty()) fixture();
        return take();
    }

  private:
    static job::Kind kind_of(const Valve& v) { return kind_or_named(v.kind, v.id); }
    std::string exact(double mm) const { return job::toml_length(mm, units()); }

    void head() {
        line("[head]");
        line(fmt::format("name = {}", job::toml_string(d_.title)));
        std::vector<std::string> assumed;
        for (const auto& v : d_.valves) {
            for (const auto& [name, f] : {std::pair{"z", &v.z}, {"incline", &v.incline}, {"cant", &v.cant}})
                if (!f->value) assumed.push_back(fmt::format("\"head.valve.{}.{}\"", v.id, name));
        }
        if (!assumed.empty()) {
            line("assumed = [");
            constexpr std::size_t in_a_line = 4;
            for (std::size_t i = 0; i < assumed.size(); i += in_a_line)
                line(fmt::format("    {},", fmt::join(assumed.begin() + static_cast<std::ptrdiff_t>(i),
                                                      assumed.begin() + static_cast<std::ptrdiff_t>(std::min(
                                                                            i + in_a_line, assumed.size())),
                                                      ", ")));
            line("]");
        }
        line("surveyed = [\"head.bolt_holes\", \"head.bolt_hole_diameter\", \"head.valve\", \"guide\"]");
        if (d_.bore_diameter) figure("bore_diameter", exact(*d_.bore_diameter), u_words(d_.u_place));
        bolt_holes();
        for (const auto& h : d_.holes)
            if (h.kind == survey::HoleKind::plug)
                line(fmt::format("# {}: {}, {}, diameter {}; an obstacle once its height and lean are known",
                                 h.id, exact(*h.x.value), exact(*h.y.value), exact(h.diameter)));
        line("");
    }

    void bolt_holes() {
        if (!d_.bolt_diameter) {
            line("# bolt_holes: ASKED, none were made out");
            return;
        }
        line("bolt_holes = [");
        for (const auto& h : d_.holes)
            if (h.kind == survey::HoleKind::bolt)
                line(fmt::format("    {:<28}# {}",
                                 fmt::format("[{}, {}],", exact(*h.x.value), exact(*h.y.value)),
                                 u_words(std::max(h.x.u, h.y.u))));
        line("]");
        figure("bolt_hole_diameter", exact(*d_.bolt_diameter), u_words(d_.u_place));
    }

    // Not in the drawing: something that can be worked with, marked.
    void angle(const char* key, const Figure& f, const Valve& v, double part) {
        if (f.value) {
            figure(key, fmt::format("{:.12g}", deg(*f.value) + 0.0),
                   fmt::format("u = {:.2g} deg, by its ellipse", deg(f.u)));
            return;
        }
        if (!v.lean) {
            figure(key, "0", "ASKED: drawn round, upright or not");
            return;
        }
        // Into the casting the rows run apart (common practice): the axis of what stands at +Y leans to −Y.
        const bool other = v.lean_way.y() * *v.y.value > 0;
        const double lean = std::atan(std::tan(*v.lean) * part * (other ? -1 : 1));
        figure(key, fmt::format("{:.12g}", deg(lean) + 0.0),
               "ASKED: its size is by the ellipse, its sign is not known");
    }

    void valve(const Valve& v) {
        line("[[head.valve]]");
        line(fmt::format("id = \"{}\"\ncylinder = {}", v.id, v.cylinder));
        figure("kind", fmt::format("\"{}\"", job::kind_word(kind_of(v))),
               v.kind ? "by the size of its seat: look" : "ASKED: all seats are of one size");
        figure("x", exact(*v.x.value), u_words(v.x.u));
        figure("y", exact(*v.y.value), u_words(v.y.u));
        if (v.z.value) {
            figure("z", exact(*v.z.value), u_words(v.z.u) + ", of its largest circle over the bolt holes'");
        } else {
            figure("z", "0", "ASKED: a view of the deck shows no height");
        }
        angle("incline", v.incline, v, v.lean_way.y());
        angle("cant", v.cant, v, v.lean_way.x());
        line("");
    }

    void forms() {
        for (const auto kind : job::both_kinds) {
            std::optional<double> bore;
            std::vector<double> seats;
            bool same = true;
            for (const auto& v : d_.valves) {
                if (kind_of(v) != kind) continue;
                if (v.bore) {
                    same = same && (!bore || std::abs(*bore - *v.bore) < 1e-3);
                    bore = v.bore;
                }
                if (seats.empty()) seats = v.diameters;
            }
            if (seats.empty()) continue;
            std::vector<std::string> words;
            words.reserve(seats.size());
            for (const double d : seats) words.push_back(written(as_length(d), units()));
            line(fmt::format("# circles of the {} valves: {}", job::kind_word(kind), fmt::join(words, ", ")));
            if (!bore || !same) continue;
            line(fmt::format("[guide.{}]", job::kind_word(kind)));
            figure("bore", exact(*bore), u_words(d_.u_place) + ", the smallest circle");
            line("");
        }
    }

    void fixture() {
        double low = 0, high = 0;
        for (const auto& v : d_.valves) {
            const double lean = deg(v.lean.value_or(0));
            low = std::min(low, -lean);
            high = std::max(high, lean);
        }
        line("[fixture]                       # takes in what is drawn: put yours in its place");
        reach(low, high, 0, 0);
        line("plumb_limit = \"0.20 deg\"");
    }

    const Drawing& d_;
    const Beside& beside_;
};

}  // namespace

std::string job_text(const Drawing& drawing, const Beside& beside) {
    return Writer(drawing, beside).text();
}

}  // namespace seatwright::drawing
