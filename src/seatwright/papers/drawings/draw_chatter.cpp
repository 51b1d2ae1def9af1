#include "seatwright/papers/drawings/draw_chatter.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/base/fault.hpp"
#include "seatwright/report/show.hpp"

namespace seatwright::papers {

using namespace report;

namespace {

// The widest of the curve shown, in widths of the form or of the lowest border, whichever is larger.
constexpr double shown_over_form = 1.25, shown_over_least = 4;

double round_step(double span, int about) {
    const double rough = span / about, power = std::pow(10, std::floor(std::log10(rough)));
    for (const double m : {1.0, 2.0, 5.0})
        if (m * power >= rough) return m * power;
    return 10 * power;
}

class Chart {
  public:
    Chart(const cut::ChatterChart& chart, LengthUnit unit, ChartSize size)
        : chart_(chart),
          unit_(unit),
          drawing_(
              size.width, size.height, "Chatter: " + chart.what,
              fmt::format("Stable width of cut over spindle speed for {}; worked at {:g} rpm with {} of cut",
                          chart.what, chart.rpm, length_with_unit(chart.width, unit))),
          right_(size.width - 6),
          bottom_(size.height - 16) {
        low_ = chart.points.front().rpm;
        high_ = std::max(low_ + 1, chart.points.back().rpm);
        top_width_ = std::max(shown_over_form * chart.width, shown_over_least * chart.least_width);
    }

    Drawing run() {
        range();
        axes();
        border();
        levels();
        working_point();
        return std::move(drawing_);
    }

  private:
    double x(double rpm) const { return left_ + (right_ - left_) * (rpm - low_) / (high_ - low_); }
    double y(double width) const {
        return bottom_ - (bottom_ - top_) * std::min(width, top_width_) / top_width_;
    }
    double shown(double mm) const { return unit_ == LengthUnit::inch ? mm / mm_per_inch : mm; }

    void range() {
        const double a = x(std::max(low_, chart_.slowest)), b = x(std::min(high_, chart_.fastest));
        drawing_.polygon({{a, top_}, {b, top_}, {b, bottom_}, {a, bottom_}}, Ink::touch, 0.07,
                         {Ink::faint, 0});
    }

    void axes() {
        drawing_.text({left_, 6}, chart_.what, 3.6, Anchor::start, Ink::line, true);
        drawing_.text({right_, 6}, "band: speeds that material and machine allow", 2.8, Anchor::end);
        drawing_.line({left_, bottom_}, {right_, bottom_});
        drawing_.line({left_, bottom_}, {left_, top_});
        const double speed_step = round_step(high_ - low_, 7);
        for (double rpm = std::ceil(low_ / speed_step) * speed_step; rpm <= high_; rpm += speed_step) {
            drawing_.line({x(rpm), bottom_}, {x(rpm), bottom_ + 1.2});
            drawing_.text({x(rpm), bottom_ + 5}, fmt::format("{:g}", rpm), 2.8, Anchor::middle);
        }
        drawing_.text({0.5 * (left_ + right_), bottom_ + 11}, "spindle speed, rpm", 3, Anchor::middle);
        const double width_step = round_step(shown(top_width_), 5);
        const double back = unit_ == LengthUnit::inch ? mm_per_inch : 1;
        for (int i = 0; i * width_step <= shown(top_width_) * (1 + 1e-9); ++i) {
            const double at = y(i * width_step * back);
            drawing_.line({left_, at}, {right_, at}, {Ink::faint, 0.12});
            drawing_.text({left_ - 1.6, at + 1}, fmt::format("{:g}", i * width_step), 2.8, Anchor::end);
        }
        drawing_.text({5, 0.5 * (top_ + bottom_)}, fmt::format("width of cut, {}", unit_name(unit_)), 3,
                      Anchor::middle, Ink::line, false, -90);
    }

    void border() {
        std::vector<Vec2> line, area{{x(low_), top_}};
        for (const auto& point : chart_.points) {
            line.emplace_back(x(point.rpm), y(point.stable_width));
            area.push_back(line.back());
        }
        area.emplace_back(x(high_), top_);
        drawing_.polygon(area, Ink::warn, 0.10, {Ink::faint, 0});
        drawing_.polyline(line, {Ink::line, 0.35});
        drawing_.text({right_ - 2, top_ + 4}, "chatters", 3, Anchor::end, Ink::warn);
    }

    void levels() {
        const Ink ink = chart_.stable ? Ink::touch : Ink::warn;
        drawing_.line({left_, y(chart_.width)}, {right_, y(chart_.width)}, {ink, 0.3, "2 1"});
        drawing_.text({left_ + 2, y(chart_.width) - 1.2},
                      "whole form " + length_with_unit(chart_.width, unit_), 2.8, Anchor::start, ink);
        drawing_.line({left_, y(chart_.least_width)}, {right_, y(chart_.least_width)},
                      {Ink::line, 0.2, "0.6 0.8"});
        // In the free corner: the line itself is often close to the form's.
        drawing_.text({left_ + 2, top_ + 4},
                      "dotted: steady at any speed below " + length_with_unit(chart_.least_width, unit_),
                      2.8);
    }

    void working_point() {
        const Ink ink = chart_.stable ? Ink::touch : Ink::warn;
        const Vec2 at(x(chart_.rpm), y(chart_.width));
        drawing_.line({at.x(), bottom_}, at, {ink, 0.25});
        drawing_.disc(at, 1.3, Ink::paper);
        if (chart_.stable)
            drawing_.circle(at, 1.3, {ink, 0.5});
        else
            drawing_.polygon({at + Vec2(0, -1.9), at + Vec2(1.7, 1.1), at + Vec2(-1.7, 1.1)}, Ink::paper, 1,
                             {ink, 0.5});
        const bool room = at.x() < right_ - 45;
        drawing_.text(at + Vec2(room ? 3 : -3, 4),
                      fmt::format("{:g} rpm, {}", chart_.rpm, chart_.stable ? "stable" : "not stable"), 3,
                      room ? Anchor::start : Anchor::end, ink, true);
    }

    const cut::ChatterChart& chart_;
    LengthUnit unit_;
    Drawing drawing_;
    double left_ = 20, top_ = 10, right_, bottom_;
    double low_ = 0, high_ = 1, top_width_ = 1;
};

}  // namespace

Drawing draw_chatter(const cut::ChatterChart& chart, LengthUnit unit, ChartSize size) {
    require(!chart.points.empty(), "a chart has points");
    return Chart(chart, unit, size).run();
}

}  // namespace seatwright::papers
