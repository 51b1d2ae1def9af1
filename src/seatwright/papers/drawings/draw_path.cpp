#include "seatwright/papers/drawings/draw_path.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/base/fault.hpp"
#include "seatwright/report/show.hpp"

namespace seatwright::papers {

using namespace report;

namespace {

constexpr double field_side = 16;  // of paper left and right of the drawn field
constexpr double heading_height = 12;
constexpr double back_lane = 1.6;  // of paper, between the way out and the way back

class Path {
  public:
    Path(const job::Job& job, const std::string& setup, const cut::Route& route, LengthUnit unit,
         PathSize size)
        : job_(job),
          route_(route),
          unit_(unit),
          size_(size),
          drawing_(size.width, heading_height + size.plan_height + size.elevation_height,
                   "Tool path, setup " + setup,
                   fmt::format("Path of the tool over {} seats of setup {}, from above and from the front",
                               route.stops.size(), setup)) {
        low_ = high_ = Vec2::Zero();
        lowest_ = route_.clear;
        for (const cut::Stop& stop : route_.stops) {
            low_ = low_.cwiseMin(stop.at);
            high_ = high_.cwiseMax(stop.at);
            lowest_ = std::min(lowest_, stop.z);
        }
        const Vec2 span = (high_ - low_).cwiseMax(Vec2::Constant(1));
        scale_ = std::min((size.width - 2 * field_side) / span.x(), (size.plan_height - 26) / span.y());
        left_ = 0.5 * (size.width - scale_ * (high_.x() - low_.x()));
        program_ = setup;
    }

    Drawing run() {
        drawing_.text(
            {4, 6},
            fmt::format("Setup {}: {} seats in the order shown, {}", program_, route_.stops.size(),
                        route_.from_touches ? "at the positions found" : "at the positions of the map"),
            3.6, Anchor::start, Ink::line, true);
        plan();
        elevation();
        return std::move(drawing_);
    }

  private:
    double x(double at) const { return left_ + scale_ * (at - low_.x()); }
    // Two rows of labels take turns so that neighbours do not run into each other.
    static double stagger(std::size_t i) { return i % 2 == 0 ? 0 : 3.4; }

    void arrow(const Vec2& a, const Vec2& b, Stroke stroke) {
        drawing_.line(a, b, stroke);
        const double way = (b - a).norm();
        if (way < 8) return;
        const Vec2 along = (b - a) / way, across(-along.y(), along.x()), tip = 0.5 * (a + b) + 1.2 * along;
        drawing_.polyline({tip - 2.2 * along + 0.9 * across, tip, tip - 2.2 * along - 0.9 * across}, stroke);
    }

    void plan() {
        const double middle = heading_height + 0.5 * size_.plan_height;
        const auto place = [&](const Vec2& at) {
            return Vec2(x(at.x()), middle - scale_ * (at.y() - 0.5 * (low_.y() + high_.y())));
        };
        drawing_.text({4, heading_height + 2}, "from above", 3);
        Vec2 from = place(Vec2::Zero());
        for (const cut::Stop& stop : route_.stops) {
            const Vec2 to = place(stop.at);
            // Out and back along one row side by side.
            const Vec2 beside(0, to.x() < from.x() ? back_lane : 0);
            arrow(from + beside, to + beside, {Ink::touch, 0.35});
            from = to;
        }
        const Vec2 datum = place(Vec2::Zero());
        // Only outwards, clear of the seat's own label.
        drawing_.line(datum - Vec2(6, 0), datum - Vec2(2.3, 0), {Ink::line, 0.2});
        drawing_.line(datum + Vec2(0, 2.3), datum + Vec2(0, 6), {Ink::line, 0.2});
        drawing_.text(datum + Vec2(0, 11), "X0 Y0", 2.8, Anchor::middle);
        for (std::size_t i = 0; i < route_.stops.size(); ++i) {
            const cut::Stop& stop = route_.stops[i];
            const Vec2 at = place(stop.at);
            drawing_.begin_group(fmt::format("stop-{}", i + 1), stop.id);
            drawing_.disc(at, 2.3, Ink::paper);
            drawing_.circle(at, 2.3, {Ink::line, 0.3});
            drawing_.text(at + Vec2(0, 1), std::to_string(i + 1), 2.8, Anchor::middle);
            drawing_.text(at - Vec2(0, 4 + stagger(i)), stop.id, 3, Anchor::middle, Ink::line, true);
            drawing_.end_group();
        }
    }

    void elevation() {
        const double top = heading_height + size_.plan_height + 10,
                     bottom = heading_height + size_.plan_height + size_.elevation_height - 10;
        const double scale = (bottom - top) / std::max(1.0, route_.clear - lowest_);
        const auto z = [&](double at) { return top + scale * (route_.clear - at); };
        drawing_.text({4, top - 5},
                      "from the front, height to its own scale; thick: the pilot enters, at its own feed", 3);
        drawing_.line({6, z(route_.clear)}, {size_.width - 6, z(route_.clear)}, {Ink::faint, 0.25, "2 1"});
        drawing_.text({size_.width - 6, z(route_.clear) - 1.5},
                      "clear height Z " + length_with_unit(job_.machine.z_sign * route_.clear, unit_), 2.8,
                      Anchor::end);
        Vec2 from(x(0), z(route_.clear));
        for (std::size_t i = 0; i < route_.stops.size(); ++i) {
            const cut::Stop& stop = route_.stops[i];
            const double at = x(stop.at.x());
            drawing_.line(from, {at, z(route_.clear)}, {Ink::touch, 0.35});
            drawing_.line({at, z(route_.clear)}, {at, z(stop.z)}, {Ink::line, 0.3});
            drawing_.line({at, z(stop.over_mouth)}, {at, z(stop.approach)}, {Ink::touch, 1.1});
            drawing_.line({at - 1.6, z(stop.z)}, {at + 1.6, z(stop.z)}, {Ink::line, 0.7});
            drawing_.text({at, bottom + 4 + stagger(i)}, job_.head.valves[stop.valve].id, 2.8,
                          Anchor::middle);
            from = {at, z(route_.clear)};
        }
    }

    const job::Job& job_;
    const cut::Route& route_;
    LengthUnit unit_;
    PathSize size_;
    Drawing drawing_;
    Vec2 low_, high_;
    double lowest_ = 0, scale_ = 1, left_ = 0;
    std::string program_;
};

}  // namespace

Drawing draw_path(const job::Job& job, const std::string& setup, const cut::Route& route, LengthUnit unit,
                  PathSize size) {
    require(!route.stops.empty(), "a path has a seat");
    return Path(job, setup, route, unit, size).run();
}

}  // namespace seatwright::papers
