#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/brought/draw_scan.hpp"
#include "seatwright/brought/scan_dots.hpp"
#include "seatwright/papers/page/scale.hpp"
#include "seatwright/report/show.hpp"

namespace seatwright::brought {

using namespace papers;

using report::length;
using scan::On;
using scan::Scan;
using scan::Shown;

namespace {

// Across in the plane the guide leans in, and up from the deck.
class SectionView {
  public:
    SectionView(const scan::Valve& valve, const ScanView& view) : v_(valve), view_(view) {
        const Vec2 lean = v_.wall.axis.head<2>();
        constexpr double upright = 0.01;
        way_ << (lean.norm() > upright ? Vec2(lean.normalized()) : Vec2(0, 1)), 0;
        if (way_.y() < -1e-9 || (std::abs(way_.y()) < 1e-9 && way_.x() < 0)) way_ = -way_;
        seat_ = Vec3(*v_.x.value, *v_.y.value, v_.z_taken);
    }

    Drawing drawn(const std::vector<Shown>& points) {
        Extent2 extent;
        double widest = 2.2 * v_.wall.radius;
        for (const auto& f : v_.facets) widest = std::max(widest, f.outer / 2);
        for (const double end : {v_.wall.low, v_.wall.high})
            extent.hold(flat(on_axis(v_.wall, end)), v_.wall.radius);
        extent.hold(flat(seat_), widest + 3);
        extent.hold({flat(seat_).x() - widest - 5, 2});
        extent.hold({flat(seat_).x() + widest + 5, 0});
        constexpr double top = 6, foot = 15, side = 1.5;
        const double room = view_.width - 2 * side;
        const double tall = std::min(1.5 * room, extent.size().y() / extent.size().x() * room);
        const Scale scale(extent, Frame{{side, top}, room, tall});
        Drawing out(view_.width, top + tall + foot, fmt::format("{} in section along its guide", v_.id),
                    fmt::format("walls and facets over the points within {} mm of the plane", slab));
        dots(out, scale, points, extent);
        deck(out, scale, extent, widest);
        guide(out, scale);
        for (const auto& f : v_.facets) facet(out, scale, f);
        labels(out, top + tall);
        return out;
    }

  private:
    static constexpr double slab = 1;  // mm either side
    Vec2 flat(const Vec3& p) const { return {way_.dot(p), p.z()}; }
    double off(const Vec3& p) const { return way_.cross(Vec3::UnitZ()).dot(p - seat_); }

    void dots(Drawing& out, const Scale& scale, const std::vector<Shown>& points,
              const Extent2& extent) const {
        std::vector<Vec2> on, others;
        for (const auto& p : points) {
            const Vec3 place = p.at.vec();
            const Vec2 here = flat(place);
            if (std::abs(off(place)) > slab || (here - extent.low).minCoeff() < 0 ||
                (extent.high - here).minCoeff() < 0)
                continue;
            const bool mine = p.on == On::guide || p.on == On::seat;
            (mine ? on : others).push_back(scale.at(here));
        }
        draw_dots(out, std::move(others), Ink::faint);
        draw_dots(out, std::move(on), Ink::line);
    }

    void deck(Drawing& out, const Scale& scale, const Extent2& extent, double widest) const {
        const double middle = flat(seat_ - seat_.z() / v_.wall.axis.z() * v_.wall.axis).x();
        const double left = std::min(extent.high.x(), middle - widest),
                     right = std::max(extent.low.x(), middle + widest);
        out.line(scale.at({extent.low.x(), 0}), scale.at({std::max(left, extent.low.x()), 0}),
                 {Ink::touch, 0.3});
        out.line(scale.at({std::min(right, extent.high.x()), 0}), scale.at({extent.high.x(), 0}),
                 {Ink::touch, 0.3});
    }

    // The plane holds the axis: walls are two lines, cones too.
    Vec2 beside(double along, double radius, double sign) const {
        const Vec3 across = (way_ - way_.dot(v_.wall.axis) * v_.wall.axis).normalized();
        return flat(on_axis(v_.wall, along) + sign * radius * across);
    }

    void guide(Drawing& out, const Scale& scale) const {
        const auto& w = v_.wall;
        for (const double sign : {-1.0, 1.0})
            out.line(scale.at(beside(w.low, w.radius, sign)), scale.at(beside(w.high, w.radius, sign)),
                     {Ink::touch, 0.4});
        const double up = std::max(w.high, w.axis.dot(seat_ - w.at)) + 3;
        out.line(scale.at(flat(on_axis(w, w.low - 2))), scale.at(flat(on_axis(w, up))),
                 {Ink::touch, 0.2, "3 0.7 0.6 0.7"});
    }

    void facet(Drawing& out, const Scale& scale, const scan::FacetFound& f) const {
        for (const double sign : {-1.0, 1.0})
            out.line(scale.at(beside(f.inner_height, f.inner / 2, sign)),
                     scale.at(beside(f.outer_height, f.outer / 2, sign)), {Ink::touch, f.face ? 0.7 : 0.35});
    }

    void labels(Drawing& out, double under) const {
        out.text({view_.width / 2, 3.6}, v_.id, 3.4, Anchor::middle, Ink::line, true);
        const auto line = [&](int n, const std::string& said, Ink ink = Ink::line) {
            out.text({view_.width / 2, under + 3.2 + 4.6 * n}, said, scan_words, Anchor::middle, ink);
        };
        line(0, fmt::format("{} {}, {} seen", v_.pin ? "pin" : "bore", length(v_.bore.value, view_.unit),
                            length(v_.length, view_.unit)));
        line(1, fmt::format("{:.0f}° of the turn", deg(v_.arc)),
             v_.arc < 2 * pi * 0.9 ? Ink::warn : Ink::line);
        if (v_.gauge.value)
            line(2, fmt::format("gauge {}, face {:.1f}°", length(v_.gauge.value, view_.unit),
                                deg(*v_.seat_angle.value)));
        else
            line(2, "seat not found: z is open", Ink::warn);
    }

    const scan::Valve& v_;
    const ScanView& view_;
    Vec3 way_ = Vec3::UnitY(), seat_ = Vec3::Zero();
};

}  // namespace

Drawing draw_scan_section(const Scan& scan, const std::vector<Shown>& points, std::size_t valve,
                          const ScanView& view) {
    return SectionView(scan.valves.at(valve), view).drawn(points);
}

}  // namespace seatwright::brought
