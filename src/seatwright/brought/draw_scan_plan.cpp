#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/brought/draw_scan.hpp"
#include "seatwright/brought/scan_dots.hpp"
#include "seatwright/papers/page/scale.hpp"

namespace seatwright::brought {

using namespace papers;

using scan::On;
using scan::Scan;
using scan::Shown;

namespace {

// What the plan must hold: the deck's points but a few that lie far off, and every feature.
Extent2 extent_of(const Scan& scan, const std::vector<Shown>& points) {
    std::vector<double> xs, ys;
    for (const auto& p : points)
        if (p.on == On::deck) {
            xs.push_back(static_cast<double>(p.at.x));
            ys.push_back(static_cast<double>(p.at.y));
        }
    Extent2 out;
    if (!xs.empty()) {
        std::sort(xs.begin(), xs.end());
        std::sort(ys.begin(), ys.end());
        const std::size_t few = xs.size() / 500;
        out.hold({xs[few], ys[few]});
        out.hold({xs[xs.size() - 1 - few], ys[ys.size() - 1 - few]});
    }
    for (const auto& v : scan.valves)
        out.hold({*v.x.value, *v.y.value}, v.gauge.value.value_or(*v.bore.value) / 2 + 2);
    for (const auto& h : scan.holes) out.hold({*h.x.value, *h.y.value}, *h.diameter.value / 2 + 1);
    for (const auto& n : scan.not_seen) out.hold(n.at, 12);
    return out;
}

class PlanView {
  public:
    PlanView(const Scan& scan, const std::vector<Shown>& points, const ScanView& view, const Scale& scale,
             double height)
        : scan_(scan),
          points_(points),
          view_(view),
          scale_(scale),
          drawing_(view.width, height, fmt::format("Scan of {}, square to its deck", scan.title),
                   fmt::format("{} valves and {} holes found over their points, {} expected and not found",
                               scan.valves.size(), scan.holes.size(), scan.not_seen.size())) {}

    Drawing drawn() {
        dots();
        chambers();
        for (const auto& c : scan_.not_taken) not_taken(c);
        for (const auto& h : scan_.holes) hole(h);
        for (const auto& v : scan_.valves) valve(v);
        for (const auto& n : scan_.not_seen) not_seen(n);
        legend();
        return drawing_;
    }

  private:
    Vec2 at(const Vec3& p) const { return scale_.at(Vec2(p.head<2>())); }
    Vec2 place(const survey::Figure& x, const survey::Figure& y) const {
        return scale_.at({*x.value, *y.value});
    }

    void dots() {
        std::vector<Vec2> deck, others, on;
        for (const auto& p : points_) {
            const Vec2 place = at(p.at.vec());
            if (place.x() < 0 || place.y() < 0 || place.x() > view_.width || place.y() > drawing_.height())
                continue;
            (p.on == On::deck ? deck : p.on == On::nothing ? others : on).push_back(place);
        }
        draw_dots(drawing_, std::move(deck), Ink::faint);
        draw_dots(drawing_, std::move(on), Ink::line);
    }

    void chambers() {
        for (const auto& c : scan_.chambers) {
            std::vector<Vec2> line;
            for (const auto& p : c.outline) line.push_back(scale_.at(p));
            drawing_.polyline(line, {Ink::line, 0.25, "2.4 0.8"}, true);
        }
    }

    void cross(const Vec2& c, double r, Ink ink) {
        drawing_.line(c - Vec2(r, r), c + Vec2(r, r), {ink, 0.35});
        drawing_.line(c - Vec2(r, -r), c + Vec2(r, -r), {ink, 0.35});
    }

    void not_taken(const scan::Cylinder& c) {
        drawing_.circle(at(c.at), scale_.length(c.radius), {Ink::warn, 0.25, "0.8 0.8"});
    }

    void hole(const scan::Hole& h) {
        drawing_.begin_group("scan-" + h.id, h.id);
        const Vec2 c = place(h.x, h.y);
        const double r = scale_.length(*h.diameter.value / 2);
        drawing_.circle(c, r, {Ink::touch, 0.3});
        if (h.kind == survey::HoleKind::plug) {
            axis(h.wall);
            drawing_.text(c + Vec2(0, -r - 0.9), h.id, scan_words, Anchor::middle, Ink::line);
        } else if (h.kind == survey::HoleKind::bolt) {
            drawing_.line(c - Vec2(1.4 * r, 0), c + Vec2(1.4 * r, 0), {Ink::touch, 0.15});
            drawing_.line(c - Vec2(0, 1.4 * r), c + Vec2(0, 1.4 * r), {Ink::touch, 0.15});
        } else {
            drawing_.text(c + Vec2(0, -r - 0.9), h.id, scan_words, Anchor::middle, Ink::faint);
        }
        drawing_.end_group();
    }

    void axis(const scan::Cylinder& wall) {
        drawing_.line(at(on_axis(wall, wall.low)), at(on_axis(wall, wall.high)),
                      {Ink::touch, 0.25, "2 0.6 0.5 0.6"});
    }

    void valve(const scan::Valve& v) {
        drawing_.begin_group("scan-" + v.id, v.id);
        const Vec2 c = place(v.x, v.y);
        const double r = scale_.length(v.wall.radius);
        for (const double end : {v.wall.low, v.wall.high})
            drawing_.circle(at(on_axis(v.wall, end)), r, {Ink::touch, 0.35});
        axis(v.wall);
        double above = r;
        if (v.gauge.value) {
            for (const auto& f : v.facets)
                for (const double d : {f.inner, f.outer}) {
                    above = std::max(above, scale_.length(d / 2));
                    drawing_.circle(c, scale_.length(d / 2), {Ink::touch, f.face ? 0.45 : 0.2});
                }
        } else {
            drawing_.circle(c, 2.5 * r, {Ink::warn, 0.3, "1.2 0.8"});
            above = 2.5 * r;
        }
        drawing_.text(c + Vec2(0, -above - 0.9), v.gauge.value ? v.id : v.id + ": seat not found", 3.2,
                      Anchor::middle, v.gauge.value ? Ink::line : Ink::warn, true);
        drawing_.end_group();
    }

    void not_seen(const scan::NotSeen& n) {
        drawing_.begin_group("scan-" + n.id, n.id);
        const Vec2 c = scale_.at(n.at);
        constexpr double r = 3.2;
        drawing_.circle(c, r, {Ink::warn, 0.4, "1.2 0.8"});
        cross(c, 0.6 * r, Ink::warn);
        drawing_.text(c + Vec2(0, -r - 0.9), n.id + (n.expected ? ": not found" : ": too little of it seen"),
                      3.2, Anchor::middle, Ink::warn, true);
        drawing_.end_group();
    }

    void legend() {
        const double y = drawing_.height() - 1.4;
        drawing_.text({1, y}, "scale " + scale_.words(), 2.8);
        std::string said = "dots: points; blue: found; broken line: chamber's edge";
        if (!scan_.not_seen.empty() || !scan_.not_taken.empty())
            said += "; rust, broken: expected and not found, or not taken";
        drawing_.text({view_.width - 1, y}, said, scan_words, Anchor::end, Ink::faint);
    }

    const Scan& scan_;
    const std::vector<Shown>& points_;
    const ScanView& view_;
    const Scale& scale_;
    Drawing drawing_;
};

}  // namespace

Drawing draw_scan_plan(const Scan& scan, const std::vector<Shown>& points, const ScanView& view) {
    constexpr double top = 5, foot = 5, side = 2;
    Extent2 extent = extent_of(scan, points);
    if (extent.empty()) extent.hold({0, 0}, 1);
    const double room = view.width - 2 * side;
    const double tall =
        std::min(1.2 * view.width, extent.size().y() / std::max(extent.size().x(), 1e-9) * room);
    const Scale scale(extent, Frame{{side, top}, room, tall});
    const double used = scale.length(extent.size().y());
    const Scale seated(extent, Frame{{side, top}, room, used * (1 + 1e-9)});
    return PlanView(scan, points, view, seated, top + used + foot).drawn();
}

}  // namespace seatwright::brought
