#include "seatwright/papers/drawings/draw_find.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/base/numerics/disc_probability.hpp"
#include "seatwright/report/show.hpp"

namespace seatwright::papers {

using namespace report;
namespace {

// Chi-square(2) quantile at 0.95 is −2·ln 0.05; its root scales a standard deviation to the 95 % ellipse.
constexpr double ellipse_95 = 2.447746830680816;
constexpr double side_margin = 14;     // mm of paper on each side
constexpr double largest_circle = 11;  // mm of paper
constexpr double legend_height = 27;
constexpr double caption_size = 3.0;
// Where no pilot or mouth is known the circle drawn is one millimetre, dashed.
constexpr double circle_when_unknown = 1.0;

// Readout coordinates to paper: one scale, y turned over.
struct View {
    double scale = 1;  // paper mm per mm
    Vec2 low = Vec2::Zero(), high = Vec2::Zero();
    double radius = 0;   // of the largest circle, paper
    double enlarge = 1;  // paper mm per mm inside the circles
    double height = 0;

    Vec2 paper(const Vec2& p) const {
        return {side_margin + radius + (p.x() - low.x()) * scale,
                side_margin + radius + (high.y() - p.y()) * scale};
    }
};

std::optional<double> circle_of(const find::FoundGuide& guide) {
    return guide.entry_clearance && *guide.entry_clearance > 0 ? guide.entry_clearance : std::nullopt;
}

View view_of(const find::FoundSetup& setup, const std::vector<std::optional<double>>& circles, double width) {
    View view;
    view.low = view.high = setup.guides.front().programmed;
    double nearest = std::numeric_limits<double>::infinity(), largest = 0;
    for (std::size_t i = 0; i < setup.guides.size(); ++i) {
        const Vec2& at = setup.guides[i].programmed;
        view.low = view.low.cwiseMin(at);
        view.high = view.high.cwiseMax(at);
        largest = std::max(largest, circles[i].value_or(circle_when_unknown));
        for (std::size_t k = i + 1; k < setup.guides.size(); ++k)
            nearest = std::min(nearest, (setup.guides[k].programmed - at).norm());
    }
    const double inside = width - 2 * side_margin;
    const double extent = std::max(1.0, view.high.x() - view.low.x());
    // Circles of neighbours must not touch: radius 0.4 of the least distance, and the row is inset by it.
    view.radius = largest_circle;
    view.scale = (inside - 2 * view.radius) / extent;
    if (std::isfinite(nearest)) view.radius = std::clamp(0.4 * nearest * view.scale, 2.5, largest_circle);
    view.scale = (inside - 2 * view.radius) / extent;
    view.enlarge = view.radius / largest;
    view.height =
        2 * (side_margin + view.radius) + (view.high.y() - view.low.y()) * view.scale + legend_height;
    return view;
}

void mark_touched(Drawing& d, Vec2 at, double r) {
    d.polygon({at + Vec2(-r, -r), at + Vec2(r, -r), at + Vec2(r, r), at + Vec2(-r, r)}, Ink::touch, 1,
              {Ink::touch, 0});
}
void mark_open(Drawing& d, Vec2 at, double r) {
    d.circle(at, r, {Ink::line, 0.3});
}
void mark_next(Drawing& d, Vec2 at, double r) {
    d.polygon({at + Vec2(0, 1.5 * r), at + Vec2(-1.3 * r, -r), at + Vec2(1.3 * r, -r)}, Ink::touch, 0.15,
              {Ink::touch, 0.45});
}
void mark_suspect(Drawing& d, Vec2 at, double r) {
    const double q = 1.3 * r;
    d.polyline({at + Vec2(0, -q), at + Vec2(q, 0), at + Vec2(0, q), at + Vec2(-q, 0)}, {Ink::warn, 0.45},
               true);
    d.line(at + Vec2(-0.6 * q, -0.6 * q), at + Vec2(0.6 * q, 0.6 * q), {Ink::warn, 0.45});
    d.line(at + Vec2(-0.6 * q, 0.6 * q), at + Vec2(0.6 * q, -0.6 * q), {Ink::warn, 0.45});
}

bool disagree(const find::FoundSetup& setup) {
    return std::any_of(setup.guides.begin(), setup.guides.end(), [](const auto& g) { return g.suspect; });
}

void draw_guide(Drawing& d, const job::Job& job, const find::FoundSetup& setup, const find::FoundGuide& guide,
                const View& view, std::optional<double> circle) {
    const std::string& id = job.head.valves[guide.valve].id;
    d.begin_group("guide-" + id, id);
    const Vec2 centre = view.paper(guide.programmed);
    const double r = circle.value_or(circle_when_unknown) * view.enlarge;
    const bool low = guide.enter_probability && *guide.enter_probability < job.find.enter_target;
    d.circle(centre, r,
             {low ? Ink::warn : Ink::line, 0.35, circle ? std::string_view{} : std::string_view{"1 1"}});
    if (guide.placed) {
        const numerics::PrincipalAxes axes = numerics::principal_axes(guide.covariance);
        // An ellipse beyond three circles says "not known" as well at three.
        const auto semi = [&](double variance) {
            return std::min(3 * view.radius, std::max(0.15, ellipse_95 * std::sqrt(variance) * view.enlarge));
        };
        const Vec2 off = (guide.at - guide.programmed) * view.enlarge;
        d.ellipse(centre + Vec2(off.x(), -off.y()), semi(axes.large), semi(axes.small), -axes.turn,
                  {guide.suspect ? Ink::warn : Ink::touch, 0.3});
    }
    const double mark = std::clamp(0.13 * view.radius, 0.6, 1.2);
    if (guide.suspect)
        mark_suspect(d, centre, mark);
    else if (guide.touched)
        mark_touched(d, centre, mark);
    else if (setup.next_touch == guide.valve)
        mark_next(d, centre, mark);
    else
        mark_open(d, centre, mark);
    const double small = std::min(caption_size, 0.7 * view.radius);
    d.text(centre + Vec2(0, -view.radius - 1.2), id, small, Anchor::middle, Ink::line, true);
    // A chance reckoned from touches that accuse each other is worth nothing: it is not said.
    std::string words =
        guide.enter_probability && !disagree(setup) ? percent(guide.enter_probability) : std::string();
    if (guide.suspect) words = "suspect";
    // Neighbours' words stand at two heights, so that they keep clear of each other when a screen enlarges
    // them.
    const double lower = (&guide - setup.guides.data()) % 2 == 0 ? 0 : 1.3 * small;
    d.text(centre + Vec2(0, view.radius + small + 0.6 + lower), words, 0.8 * small, Anchor::middle,
           guide.suspect || low ? Ink::warn : Ink::line);
    d.end_group();
}

void draw_legend(Drawing& d, const View& view, double width) {
    const double y = view.height - legend_height + 6;
    const struct {
        const char* words;
        void (*mark)(Drawing&, Vec2, double);
    } marks[] = {{"touched", mark_touched},
                 {"not touched", mark_open},
                 {"touch next", mark_next},
                 {"suspect", mark_suspect}};
    double x = side_margin;
    for (const auto& one : marks) {
        one.mark(d, {x, y - 1}, 1.1);
        d.text({x + 3, y}, one.words, caption_size);
        x += (width - 2 * side_margin) / 4;
    }
    d.text({side_margin + 3, y + 6}, fmt::format("Places 1 : {:.2g}.", 1 / view.scale), caption_size);
    d.text({side_margin + 3, y + 11},
           fmt::format("Circles to hit and 95 % ellipses {:.3g} : 1.", view.enlarge), caption_size);
    // Axes of the readout.
    const Vec2 corner(side_margin - 8, y + 6);
    d.line(corner, corner + Vec2(6, 0), {Ink::faint, 0.3});
    d.line(corner, corner + Vec2(0, -6), {Ink::faint, 0.3});
    d.text(corner + Vec2(4.5, 3), "X", 2.4, Anchor::start, Ink::faint);
    d.text(corner + Vec2(-2.4, -4), "Y", 2.4, Anchor::start, Ink::faint);
}

}  // namespace

Drawing draw_find(const job::Job& job, const find::FoundSetup& setup, double width) {
    if (setup.guides.empty()) return {width, legend_height, "No guides", "This setup holds no guide."};
    std::vector<std::optional<double>> circles;
    for (const find::FoundGuide& guide : setup.guides) circles.push_back(circle_of(guide));
    const View view = view_of(setup, circles, width);
    Drawing d(width, view.height, fmt::format("Guides of setup {}", setup.id),
              fmt::format("Plan in readout coordinates. {} guides, {} touched. {}", setup.guides.size(),
                          std::count_if(setup.guides.begin(), setup.guides.end(),
                                        [](const auto& g) { return g.touched; }),
                          disagree(setup) ? "Their touches do not agree."
                                          : fmt::format("Least chance of entering {}.",
                                                        percent(setup.least_enter_probability))));
    for (std::size_t g = 0; g < setup.guides.size(); ++g)
        draw_guide(d, job, setup, setup.guides[g], view, circles[g]);
    draw_legend(d, view, width);
    return d;
}

}  // namespace seatwright::papers
