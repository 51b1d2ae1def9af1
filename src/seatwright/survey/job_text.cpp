#include "seatwright/survey/job_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/job/kind_word.hpp"
#include "seatwright/job/writer.hpp"
#include "seatwright/survey/accepted.hpp"
#include "seatwright/survey/job_lines.hpp"
#include "seatwright/words/in_words.hpp"

namespace seatwright::survey {
namespace {

class Writer : JobLines {
  public:
    Writer(const Survey& survey, const std::vector<std::string>& taken)
        : JobLines(survey.readings.units), s_(survey), taken_(taken) {}

    std::string text() {
        begin();
        head();
        for (const auto& v : s_.valves) valve(v);
        offers();
        forms();
        if (s_.readings.fixture.empty()) fixture();
        return take();
    }

  private:
    void begin() {
        line("# A head as surveyed at the machine. Every figure carries its standard uncertainty u.");
        if (!s_.whole())
            line("# Not all of it is known: what the readings leave open stands below as a comment.");
        title(s_.readings.title);
        for (const auto& [key, value] : {std::pair{"shop", &s_.readings.shop},
                                         {"machine", &s_.readings.machine},
                                         {"fixture", &s_.readings.fixture}})
            if (!value->empty()) line(fmt::format("{} = {}", key, job::toml_string(*value)));
        line("");
    }

    void head() {
        line("[head]");
        line(fmt::format("name = {}", job::toml_string(s_.readings.head)));
        surveyed();
        if (!s_.readings.material.empty())
            line(fmt::format("material = {}", job::toml_string(s_.readings.material)));
        if (s_.readings.mass) line(fmt::format("mass = \"{:.12g} kg\"", *s_.readings.mass));
        bolt_holes();
        for (const auto& h : s_.holes) {
            if (h.kind == HoleKind::bolt || !h.x.value || !h.y.value || !h.diameter) continue;
            line(fmt::format("[[head.obstacle]]\nname = {}", job::toml_string(h.id)));
            figure("x", length(*h.x.value), u_words(h.x.u));
            figure("y", length(*h.y.value), u_words(h.y.u));
            line("z = 0\ndiameter = " + length(*h.diameter));
        }
        line("");
    }

    // What of the job was read, so that it is told as such.
    void surveyed() {
        std::string keys = "\"head.bolt_holes\", \"head.bolt_hole_diameter\"";
        for (const auto& v : s_.valves)
            if (v.whole()) keys += fmt::format(", \"head.valve.{}\"", v.id);
        for (const auto kind : job::both_kinds)
            if (size(SizeOf::bore, kind) != nullptr)
                keys += fmt::format(", \"guide.{}.bore\"", job::kind_word(kind));
        line(fmt::format("surveyed = [{}]", keys));
    }

    void bolt_holes() {
        std::vector<const Hole*> bolts;
        for (const auto& h : s_.holes)
            if (h.kind == HoleKind::bolt && h.x.value && h.y.value) bolts.push_back(&h);
        if (bolts.empty()) return;
        line("bolt_holes = [");
        for (const auto* h : bolts)
            line(fmt::format("    {:<28}# {}: {}",
                             fmt::format("[{}, {}],", length(*h->x.value), length(*h->y.value)),
                             comment_text(h->id), u_words(std::max(h->x.u, h->y.u))));
        line("]");
        double sum = 0, n = 0;
        for (const auto* h : bolts)
            if (h->diameter) {
                sum += *h->diameter;
                ++n;
            }
        if (n > 0) line("bolt_hole_diameter = " + length(sum / n));
    }

    void valve(const Valve& v) {
        if (!v.whole()) {
            std::string open;
            for (const auto& [name, f] :
                 {std::pair{"x", &v.x}, {"y", &v.y}, {"z", &v.z}, {"incline", &v.incline}, {"cant", &v.cant}})
                if (!f->value) open += fmt::format("{}{}", open.empty() ? "" : ", ", name);
            line(fmt::format("# {}: the readings leave its {} open\n", v.id, open));
            return;
        }
        line("[[head.valve]]");
        line(fmt::format("id = \"{}\"\ncylinder = {}\nkind = \"{}\"", v.id, v.name.cylinder,
                         job::kind_word(v.name.kind)));
        figure("x", length(*v.x.value), u_words(v.x.u));
        figure("y", length(*v.y.value), u_words(v.y.u));
        figure("z", length(*v.z.value),
               fmt::format("{}, as found on {}", u_words(v.z.u), comment_text(s_.readings.head)));
        figure("incline", fmt::format("{:.4f}", deg(*v.incline.value) + 0.0),
               fmt::format("u = {:.2g} deg", deg(v.incline.u)));
        figure("cant", fmt::format("{:.4f}", deg(*v.cant.value) + 0.0),
               fmt::format("u = {:.2g} deg", deg(v.cant.u)));
        line("");
    }

    void offers() {
        if (s_.repeats.empty()) return;
        line("# What repeats, and the chance that it is chance:");
        for (const auto& r : s_.repeats)
            line(fmt::format("#   {} ({:.1g}){}", comment_text(in_words(r.words, {units()})), r.chance,
                             is_taken(r) ? "; accepted: the figures above are these" : ""));
        line("");
    }

    bool is_taken(const Repeat& repeat) const {
        return can_be_accepted(repeat.what) && std::count(taken_.begin(), taken_.end(), repeat.what) > 0;
    }

    const SizeFound* size(SizeOf what, job::Kind kind) const {
        for (const auto& s : s_.sizes)
            if (s.what == what && s.kind == kind) return &s;
        return nullptr;
    }

    void sized(const char* key, const SizeFound* found) {
        if (found != nullptr)
            figure(key, length(found->value), fmt::format("{}, of {}", u_words(found->u), found->count));
    }

    void forms() {
        for (const auto kind : job::both_kinds) {
            // [valve.*] cannot be without its head.
            if (const auto* head = size(SizeOf::valve_head, kind)) {
                line(fmt::format("[valve.{}]", job::kind_word(kind)));
                sized("head_diameter", head);
                sized("stem_diameter", size(SizeOf::stem, kind));
                line("");
            }
            const std::array guide{std::pair{"bore", SizeOf::bore}, std::pair{"length", SizeOf::guide_length},
                                   std::pair{"to_seat", SizeOf::to_seat}, std::pair{"below", SizeOf::below}};
            if (std::none_of(guide.begin(), guide.end(),
                             [&](const auto& g) { return size(g.second, kind) != nullptr; }))
                continue;
            line(fmt::format("[guide.{}]", job::kind_word(kind)));
            for (const auto& [key, what] : guide) sized(key, size(what, kind));
            line("");
        }
        for (const auto& [what, words] :
             {std::pair{SizeOf::throat, "throat"}, std::pair{SizeOf::face_width, "width of the old face"}})
            for (const auto kind : job::both_kinds)
                if (const auto* found = size(what, kind))
                    line(fmt::format("# {}, {}: {} ({})", words, job::kind_word(kind),
                                     written(as_length(found->value), units()), u_words(found->u)));
    }

    // What was set in the survey can be set again.
    void fixture() {
        double low = 0, high = 0, left = 0, right = 0;
        for (const auto& s : s_.setups) {
            low = std::min(low, deg(s.tilt.value.value_or(0)));
            high = std::max(high, deg(s.tilt.value.value_or(0)));
            left = std::min(left, deg(s.swing.value.value_or(0)));
            right = std::max(right, deg(s.swing.value.value_or(0)));
        }
        for (const auto& v : s_.valves)
            if (v.whole()) {
                low = std::min(low, deg(*v.incline.value));
                high = std::max(high, deg(*v.incline.value));
            }
        // Guides stood as plumb as this when they were read.
        const double limit = std::max(0.2, std::ceil(20 * (deg(s_.worst_plumb) + 0.05)) / 20);
        line("[fixture]                       # reaches what was set in the survey: put yours in its place");
        reach(low, high, left, right);
        line(fmt::format("plumb_limit = \"{:.2f} deg\"", limit));
    }

    const Survey& s_;
    const std::vector<std::string>& taken_;
};

}  // namespace

bool is_a_job(const Survey& survey) {
    return std::any_of(survey.valves.begin(), survey.valves.end(), [](const Valve& v) { return v.whole(); });
}

std::optional<std::string> job_text(const Survey& survey, const std::vector<std::string>& taken) {
    const Survey told = accepted(survey, taken);
    if (!is_a_job(told)) return std::nullopt;
    return Writer(told, taken).text();
}

}  // namespace seatwright::survey
