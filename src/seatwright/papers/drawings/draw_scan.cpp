#include "seatwright/papers/drawings/draw_scan.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/job/kind_word.hpp"
#include "seatwright/papers/page/pages.hpp"
#include "seatwright/papers/page/scale.hpp"
#include "seatwright/report/show.hpp"
#include "seatwright/words/in_words.hpp"

namespace seatwright::papers {

using namespace report;
using scan::On;
using scan::Scan;
using scan::Shown;

namespace {

constexpr std::size_t most_dots = 3000;  // of a kind in one drawing
constexpr double dot = 0.22;             // mm of paper
constexpr double words = 2.6;

// Where the guide's wall is cut off at either end, and its axis between.
Vec3 on_axis(const scan::Cylinder& wall, double along) {
    return wall.at + along * wall.axis;
}

// At most so many, evenly taken.
std::vector<Vec2> fewer(std::vector<Vec2> all) {
    if (all.size() <= most_dots) return all;
    std::vector<Vec2> out;
    out.reserve(most_dots);
    for (std::size_t i = 0; i < most_dots; ++i) out.push_back(all[i * all.size() / most_dots]);
    return out;
}

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
        drawing_.dots(fewer(std::move(deck)), dot, Ink::faint);
        drawing_.dots(fewer(std::move(on)), dot, Ink::line);
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
            drawing_.text(c + Vec2(0, -r - 0.9), h.id, words, Anchor::middle, Ink::line);
        } else if (h.kind == survey::HoleKind::bolt) {
            drawing_.line(c - Vec2(1.4 * r, 0), c + Vec2(1.4 * r, 0), {Ink::touch, 0.15});
            drawing_.line(c - Vec2(0, 1.4 * r), c + Vec2(0, 1.4 * r), {Ink::touch, 0.15});
        } else {
            drawing_.text(c + Vec2(0, -r - 0.9), h.id, words, Anchor::middle, Ink::faint);
        }
        drawing_.end_group();
    }

    void axis(const scan::Cylinder& wall) {
        drawing_.line(at(on_axis(wall, wall.low)), at(on_axis(wall, wall.high)), {Ink::touch, 0.25, "2 0.6 0.5 0.6"});
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
        drawing_.text(c + Vec2(0, -r - 0.9),
                      n.id + (n.expected ? ": not found" : ": too little of it seen"), 3.2, Anchor::middle,
                      Ink::warn, true);
        drawing_.end_group();
    }

    void legend() {
        const double y = drawing_.height() - 1.4;
        drawing_.text({1, y}, "scale " + scale_.words(), 2.8);
        std::string said = "dots: points; blue: found; broken line: chamber's edge";
        if (!scan_.not_seen.empty() || !scan_.not_taken.empty())
            said += "; rust, broken: expected and not found, or not taken";
        drawing_.text({view_.width - 1, y}, said, words, Anchor::end, Ink::faint);
    }

    const Scan& scan_;
    const std::vector<Shown>& points_;
    const ScanView& view_;
    const Scale& scale_;
    Drawing drawing_;
};

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
        out.dots(fewer(std::move(others)), dot, Ink::faint);
        out.dots(fewer(std::move(on)), dot, Ink::line);
    }

    void deck(Drawing& out, const Scale& scale, const Extent2& extent, double widest) const {
        const double middle = flat(seat_ - seat_.z() / v_.wall.axis.z() * v_.wall.axis).x();
        const double left = std::min(extent.high.x(), middle - widest), right = std::max(extent.low.x(), middle + widest);
        out.line(scale.at({extent.low.x(), 0}), scale.at({std::max(left, extent.low.x()), 0}), {Ink::touch, 0.3});
        out.line(scale.at({std::min(right, extent.high.x()), 0}), scale.at({extent.high.x(), 0}), {Ink::touch, 0.3});
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
                     scale.at(beside(f.outer_height, f.outer / 2, sign)),
                     {Ink::touch, f.face ? 0.7 : 0.35});
    }

    void labels(Drawing& out, double under) const {
        out.text({view_.width / 2, 3.6}, v_.id, 3.4, Anchor::middle, Ink::line, true);
        const auto line = [&](int n, const std::string& said, Ink ink = Ink::line) {
            out.text({view_.width / 2, under + 3.2 + 3.4 * n}, said, words, Anchor::middle, ink);
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

constexpr double beside_sections = 2;

// Sections side by side, so many in a row.
std::vector<Drawing> sections(const Scan& scan, const std::vector<Shown>& points, double width,
                              std::size_t in_row, LengthUnit unit) {
    ScanView one{(width - beside_sections * static_cast<double>(in_row - 1)) / static_cast<double>(in_row),
                 unit};
    std::vector<Drawing> out;
    for (std::size_t v = 0; v < scan.valves.size(); ++v)
        out.push_back(draw_scan_section(scan, points, v, one));
    return out;
}

constexpr std::size_t in_row = 4;

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

Drawing draw_scan_section(const Scan& scan, const std::vector<Shown>& points, std::size_t valve,
                          const ScanView& view) {
    return SectionView(scan.valves.at(valve), view).drawn(points);
}

Drawing draw_scan(const Scan& scan, const std::vector<Shown>& points, const ScanView& view) {
    const Drawing plan = draw_scan_plan(scan, points, view);
    const auto cut = sections(scan, points, view.width, in_row, view.unit);
    double height = plan.height();
    for (std::size_t i = 0; i < cut.size(); i += in_row) {
        double tall = 0;
        for (std::size_t k = i; k < std::min(cut.size(), i + in_row); ++k)
            tall = std::max(tall, cut[k].height());
        height += tall + beside_sections;
    }
    Drawing out(view.width, height, fmt::format("Scan of {}", scan.title),
                "what was found over its points, square to the deck and in section along each guide");
    out.place(plan, {0, 0});
    double y = plan.height();
    for (std::size_t i = 0; i < cut.size(); i += in_row) {
        double tall = 0;
        for (std::size_t k = i; k < std::min(cut.size(), i + in_row); ++k) {
            out.place(cut[k], {static_cast<double>(k - i) * (cut[k].width() + beside_sections), y});
            tall = std::max(tall, cut[k].height());
        }
        y += tall + beside_sections;
    }
    return out;
}

std::vector<std::string> scan_pages(const Scan& scan, const std::vector<Shown>& points, PaperSize size,
                                    LengthUnit unit) {
    Pages paper(size, {"A head as scanned", scan.title,
                       "Look at every feature over its points before a plan is made of it."});
    const Speech speech{unit};
    for (const auto& w : scan.warnings) paper.sentence(in_words(w.text, speech), {Ink::warn, "▲", true});
    const Drawing plan = draw_scan_plan(scan, points, {paper.width(), unit});
    paper.heading("Square to the deck", plan.height());
    paper.row({plan});
    const auto cut = sections(scan, points, paper.width(), in_row, unit);
    for (std::size_t i = 0; i < cut.size(); i += in_row) {
        const std::vector<Drawing> row(cut.begin() + static_cast<std::ptrdiff_t>(i),
                                       cut.begin() + static_cast<std::ptrdiff_t>(std::min(cut.size(), i + in_row)));
        if (i == 0) paper.heading("In section along each guide", row.front().height());
        paper.row(row, beside_sections);
    }
    if (!scan.missing.empty()) paper.heading("Expected and not found, and what is asked", 12);
    for (const auto& m : scan.missing)
        paper.check(fmt::format("{}: {}; {}", in_words(m.what, speech), in_words(m.why, speech),
                                in_words(m.next, speech)));
    for (const auto& a : scan.assumptions) paper.sentence(in_words(a, speech), {Ink::faint, "", true});
    return paper.documents();
}

}  // namespace seatwright::papers
