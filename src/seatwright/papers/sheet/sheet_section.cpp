#include "seatwright/papers/sheet/sheet_section.hpp"

#include <fmt/format.h>

#include <cmath>

#include "seatwright/papers/page/lettering.hpp"
#include "seatwright/papers/page/scale.hpp"
#include "seatwright/papers/sheet/seats_of.hpp"
#include "seatwright/report/show.hpp"

namespace seatwright::papers {

using namespace report;

namespace {

constexpr double above_profile = 21, below_profile = 11, beside_profile = 26;

// Short slanted strokes under the profile: cut metal.
void hatch(Drawing& drawing, const std::vector<Vec2>& profile, double bottom) {
    for (double x = profile.front().x() + 1.2; x < profile.back().x(); x += 2.4) {
        const auto after =
            std::find_if(profile.begin(), profile.end(), [&](const Vec2& p) { return p.x() >= x; });
        if (after == profile.begin() || after == profile.end()) continue;
        const Vec2 &a = *(after - 1), &b = *after;
        const double y = a.y() + (b.y() - a.y()) * (x - a.x()) / (b.x() - a.x());
        const double down = std::min(bottom - y, 5.0);
        if (down > 1) drawing.line({x, y + 0.8}, {x - (down - 0.8) * 0.6, y + down}, {Ink::faint, 0.15});
    }
}

void diameters(Drawing& drawing, const shape::Section& section, const Scale& scale, const SectionView& view) {
    struct Witness {
        const char* name;
        double diameter, z;
    };
    const Vec2 inner = section.points[section.face], outer = section.points[section.face + 1];
    // The outermost highest, so that no leader crosses another's line.
    const std::vector<Witness> marks{{"contact Ø", section.contact_od, outer.y()},
                                     {"gauge Ø", section.gauge, (inner.y() + outer.y()) / 2},
                                     {"inner Ø", section.contact_id, inner.y()}};
    const double words_end = scale.at({section.contact_id / 2, 0}).x() - 3;
    double level = 9.5;
    for (const auto& mark : marks) {
        const Vec2 foot = scale.at({mark.diameter / 2, mark.z});
        drawing.line(foot + Vec2(0, -0.8), {foot.x(), level - 1}, {Ink::line, 0.15});
        drawing.line({foot.x(), level - 1}, {words_end + 0.8, level - 1}, {Ink::line, 0.15});
        drawing.text({words_end, level}, fmt::format("{} {}", mark.name, length(mark.diameter, view.unit)),
                     2.8, Anchor::end);
        level += 3.9;
    }
}

void facets(Drawing& drawing, const shape::Section& section, const Scale& scale, const SectionView& view) {
    for (std::size_t k = 0; k + 1 < section.points.size(); ++k) {
        const Vec2 a = section.points[k], b = section.points[k + 1];
        const bool face = k == section.face;
        drawing.line(scale.at(a), scale.at(b), {face ? Ink::touch : Ink::line, face ? 0.9 : 0.6});
        const Vec2 middle = (scale.at(a) + scale.at(b)) / 2;
        const double tilt = std::atan2(b.y() - a.y(), b.x() - a.x());
        const std::string words = fmt::format("{}° × {}", angle(tilt, 1), length((b - a).norm(), view.unit));
        // Words to the lower right, one under the other from the outermost facet down.
        const auto from_outside = static_cast<double>(section.points.size() - 2 - k);
        const Vec2 to(view.width - 2 - words_width(words, 2.8) - 3.5,
                      view.height - below_profile - 2 - 4.2 * static_cast<double>(section.points.size() - 2) +
                          4.2 * from_outside);
        drawing.line(middle, to + Vec2(2.5, -1), {face ? Ink::touch : Ink::line, 0.15});
        drawing.disc(middle, 0.4, face ? Ink::touch : Ink::line);
        drawing.text(to + Vec2(3.3, 0), words, 2.8, Anchor::start, face ? Ink::touch : Ink::line, face);
    }
}

}  // namespace

Drawing draw_seat_form(const job::Job& job, const shape::Seat& seat, const SectionView& view) {
    const auto kind = job.head.valves[seat.valve].kind;
    const std::string name = seats_of(kind);
    Drawing drawing(view.width, view.height, name, "half section through the guide axis, facets dimensioned");
    drawing.text({1, 4}, name, 3.4, Anchor::start, Ink::line, true);
    Extent2 extent;
    for (const auto& p : seat.section.points) extent.hold(p);
    // The right part of the drawing is left to the words of the facets.
    const Scale scale(extent, Frame{{beside_profile, above_profile},
                                    view.width - beside_profile - 30,
                                    view.height - above_profile - below_profile});
    std::vector<Vec2> profile;
    for (const auto& p : seat.section.points) profile.push_back(scale.at(p));
    hatch(drawing, profile, view.height - below_profile + 3);
    facets(drawing, seat.section, scale, view);
    diameters(drawing, seat.section, scale, view);
    std::string cutter = "no cutter of the shelf makes it: see the form to order";
    if (seat.cutter) cutter = job.cutters[*seat.cutter].name;
    if (seat.cutter && seat.blade_setting)
        cutter += fmt::format(", blade at {} diameter", length_with_unit(seat.blade_setting, view.unit));
    drawing.text({1, view.height - 4.6}, fitted(cutter, view.width - 2, 2.8), 2.8, Anchor::start,
                 seat.cutter ? Ink::line : Ink::warn);
    drawing.text({1, view.height - 1.0}, "scale " + scale.words(), 2.6, Anchor::start, Ink::faint);
    return drawing;
}

}  // namespace seatwright::papers
