#include "seatwright/papers/drawings/draw_chatter.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/base/fault.hpp"
#include "seatwright/report/show.hpp"

namespace seatwright::papers {

using namespace report;

namespace {

// The axis of widths ends at twice the width in use; of two calm speeds closer on paper than this one is
// drawn.
constexpr double shown_over_form = 2, calm_apart = 1.2, row_height = 5;

double round_step(double span, int about) {
    const double rough = span / about, power = std::pow(10, std::floor(std::log10(rough)));
    for (const double m : {1.0, 2.0, 5.0})
        if (m * power >= rough) return m * power;
    return 10 * power;
}

Ink ink_of(const cut::ChatterChart& chart) {
    return chart.stable ? Ink::touch : Ink::warn;
}

std::string said(const cut::ChatterChart& chart, LengthUnit unit) {
    return fmt::format("{}: {} wide at {:g} rpm, {}", chart.what, length_with_unit(chart.width, unit),
                       chart.rpm, chart.stable ? "stable" : "not stable");
}

std::string described(const std::vector<cut::ChatterChart>& charts, LengthUnit unit) {
    std::string all = "Stable width of cut over spindle speed. ";
    for (const auto& chart : charts) all += said(chart, unit) + ". ";
    all.pop_back();
    return all;
}

class ChartDrawing {
  public:
    ChartDrawing(const std::vector<cut::ChatterChart>& charts, const std::vector<double>& calm,
                 LengthUnit unit, ChartSize size)
        : charts_(charts),
          calm_(calm),
          unit_(unit),
          drawing_(size.width, size.height + row_height * static_cast<double>(charts.size()), "Chatter",
                   described(charts, unit)),
          top_(13 + row_height * static_cast<double>(charts.size())),
          right_(size.width - 6),
          bottom_(drawing_.height() - 16),
          low_(charts.front().border->front().rpm),
          high_(low_ + 1) {
        for (const auto& chart : charts) {
            low_ = std::min(low_, chart.border->front().rpm);
            high_ = std::max(high_, chart.border->back().rpm);
            top_width_ = std::max(top_width_, shown_over_form * chart.width);
        }
    }

    Drawing run() {
        legend();
        range();
        axes();
        for (const auto& chart : charts_) border(chart);
        chatters();
        calm();
        for (const auto& chart : charts_) level(chart);
        for (const auto& chart : charts_) working_point(chart);
        return std::move(drawing_);
    }

  private:
    double x(double rpm) const { return left_ + (right_ - left_) * (rpm - low_) / (high_ - low_); }
    double y(double width) const {
        return bottom_ - (bottom_ - top_) * std::min(width, top_width_) / top_width_;
    }
    double shown(double mm) const { return unit_ == LengthUnit::inch ? mm / mm_per_inch : mm; }
    std::string_view dash(const cut::ChatterChart& chart) const {
        return &chart == &charts_.front() ? std::string_view() : std::string_view("2 1");
    }

    // A row a form above the plot, with the mark and the line it has below.
    void legend() {
        double at = 6;
        for (const auto& chart : charts_) {
            drawing_.line({left_, at - 1}, {left_ + 8, at - 1}, {ink_of(chart), 0.35, dash(chart)});
            mark({left_ + 4, at - 1}, chart);
            drawing_.text({left_ + 11, at}, said(chart, unit_), 3, Anchor::start, ink_of(chart), true);
            at += row_height;
        }
        drawing_.text({left_, at}, "band: speeds that material and machine allow", 2.8);
        if (!calm_.empty()) drawing_.text({right_, at}, "ticks on top: calm speeds", 2.8, Anchor::end);
    }

    void range() {
        for (const auto& chart : charts_) {
            const double a = x(std::max(low_, chart.slowest)), b = x(std::min(high_, chart.fastest));
            drawing_.polygon({{a, top_}, {b, top_}, {b, bottom_}, {a, bottom_}}, Ink::touch,
                             0.08 / static_cast<double>(charts_.size()), {Ink::faint, 0});
        }
    }

    void axes() {
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

    // Above it the cut of this form chatters. Where every form has the same border the areas lie on one
    // another.
    void border(const cut::ChatterChart& chart) {
        std::vector<Vec2> line, area{{x(chart.border->front().rpm), top_}};
        for (const auto& point : *chart.border) {
            line.emplace_back(x(point.rpm), y(point.stable_width));
            area.push_back(line.back());
        }
        area.emplace_back(x(chart.border->back().rpm), top_);
        drawing_.polygon(area, Ink::warn, 0.10 / static_cast<double>(charts_.size()), {Ink::faint, 0});
        drawing_.polyline(line, {Ink::line, 0.35, dash(chart)});
    }

    void chatters() {
        double least = charts_.front().least_width;
        for (const auto& chart : charts_) least = std::min(least, chart.least_width);
        drawing_.line({left_, y(least)}, {right_, y(least)}, {Ink::line, 0.2, "0.6 0.8"});
        drawing_.text({right_ - 2, top_ + 6}, "chatters", 3, Anchor::end, Ink::warn);
        // Beside the plot: inside, the forms' lines are often close to it.
        drawing_.text({right_, bottom_ + 11},
                      "dotted: steady at any speed, " + length_with_unit(least, unit_), 2.8, Anchor::end);
    }

    void calm() {
        double last = -calm_apart;
        auto speeds = calm_;
        std::sort(speeds.begin(), speeds.end());
        for (const double rpm : speeds) {
            if (rpm < low_ || rpm > high_ || x(rpm) - last < calm_apart) continue;
            last = x(rpm);
            drawing_.line({last, top_}, {last, top_ + 2.4}, {Ink::touch, 0.35});
        }
    }

    void level(const cut::ChatterChart& chart) {
        drawing_.line({left_, y(chart.width)}, {right_, y(chart.width)}, {ink_of(chart), 0.3, dash(chart)});
    }

    void working_point(const cut::ChatterChart& chart) {
        const Vec2 at(x(chart.rpm), y(chart.width));
        drawing_.line({at.x(), bottom_}, at, {ink_of(chart), 0.25, dash(chart)});
        mark(at, chart);
    }

    // The first form's is round, the next one's square; one that chatters has three corners.
    void mark(Vec2 at, const cut::ChatterChart& chart) {
        const Stroke stroke{ink_of(chart), 0.5};
        if (!chart.stable) {
            drawing_.polygon({at + Vec2(0, -1.9), at + Vec2(1.7, 1.1), at + Vec2(-1.7, 1.1)}, Ink::paper, 1,
                             stroke);
        } else if (&chart == &charts_.front()) {
            drawing_.disc(at, 1.3, Ink::paper);
            drawing_.circle(at, 1.3, stroke);
        } else {
            drawing_.polygon(
                {at + Vec2(-1.2, -1.2), at + Vec2(1.2, -1.2), at + Vec2(1.2, 1.2), at + Vec2(-1.2, 1.2)},
                Ink::paper, 1, stroke);
        }
    }

    const std::vector<cut::ChatterChart>& charts_;
    const std::vector<double>& calm_;
    LengthUnit unit_;
    Drawing drawing_;
    double left_ = 20, top_, right_, bottom_, low_, high_, top_width_ = 0;
};

}  // namespace

Drawing draw_chatter(const std::vector<cut::ChatterChart>& charts, const std::vector<double>& calm_rpm,
                     LengthUnit unit, ChartSize size) {
    require(!charts.empty() && !charts.front().border->empty(), "a chart has points");
    return ChartDrawing(charts, calm_rpm, unit, size).run();
}

}  // namespace seatwright::papers
