#include "seatwright/papers/drawings/draw_trace.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/papers/page/nice_step.hpp"
#include "seatwright/prove/trace.hpp"
#include "seatwright/report/show.hpp"

namespace seatwright::papers {

using namespace report;

namespace {

// Points beyond this many add bytes and no ink: a drawing keeps the extremes of each bin.
constexpr std::size_t most_points = 1440;

struct Polar {
    Vec2 centre;
    double base = 0;  // paper radius of the mean reading
    double gain = 0;  // paper mm per mm
    double mean = 0;
    Vec2 at(double angle, double reading) const {
        const double r = base + gain * (reading - mean);
        return {centre.x() + r * std::cos(angle), centre.y() - r * std::sin(angle)};
    }
};

std::vector<std::size_t> points_to_draw(const prove::SeatProof& seat) {
    const auto n = seat.readings.size();
    std::vector<std::size_t> out;
    const std::size_t bin = std::max<std::size_t>(1, (2 * n + most_points - 1) / most_points);
    for (std::size_t from = 0; from < n; from += bin) {
        const auto end = std::min(n, from + bin);
        std::size_t low = from, high = from;
        for (std::size_t i = from; i < end; ++i) {
            if (seat.readings[i] < seat.readings[low]) low = i;
            if (seat.readings[i] > seat.readings[high]) high = i;
        }
        out.push_back(std::min(low, high));
        if (low != high) out.push_back(std::max(low, high));
    }
    return out;
}

// The readings in their order as a line that does not bridge what was not read.
void draw_readings(Drawing& d, const Polar& polar, const prove::SeatProof& seat, Stroke stroke) {
    const double far = std::max(prove::gap_worth_telling,
                                prove::gap_in_steps * 2 * pi / static_cast<double>(seat.readings.size()));
    const auto apart = [&](std::size_t a, std::size_t b) {
        return std::abs(std::remainder(seat.angle[a] - seat.angle[b], 2 * pi)) > far;
    };
    const auto order = points_to_draw(seat);
    std::vector<Vec2> run;
    bool whole = !apart(order.back(), order.front());
    for (std::size_t k = 0; k < order.size(); ++k) {
        if (k > 0 && apart(order[k - 1], order[k])) {
            d.polyline(run, stroke);
            run.clear();
            whole = false;
        }
        run.push_back(polar.at(seat.angle[order[k]], seat.readings[order[k]]));
    }
    if (!whole && !apart(order.back(), order.front()))
        run.push_back(polar.at(seat.angle[order.front()], seat.readings[order.front()]));
    d.polyline(run, stroke, whole);
}

void draw_limacon(Drawing& d, const Polar& polar, const numerics::ReferenceCircle& circle, Stroke stroke) {
    std::vector<Vec2> points;
    constexpr int steps = 180;
    for (int i = 0; i < steps; ++i) {
        const double t = 2 * pi * i / steps;
        points.push_back(polar.at(t, circle.radius + circle.x * std::cos(t) + circle.y * std::sin(t)));
    }
    d.polyline(points, stroke, true);
}

// The two limaçons the minimum zone lies between.
void draw_zone(Drawing& d, const Polar& polar, const numerics::ReferenceCircle& mz, Stroke stroke) {
    for (const double side : {-0.5, 0.5}) {
        numerics::ReferenceCircle edge = mz;
        edge.radius += side * mz.out_of_round;
        draw_limacon(d, polar, edge, stroke);
    }
}

void draw_rings(Drawing& d, const Polar& polar, double reach, double step) {
    for (double v = 0; v <= reach * 1.001; v += step)
        for (const double side : {-1.0, 1.0})
            if (polar.base + side * v * polar.gain > 0.5)
                d.circle(polar.centre, polar.base + side * v * polar.gain, {Ink::faint, v == 0 ? 0.2 : 0.1});
}

void draw_legend(Drawing& d, const prove::SeatProof& seat, const TraceView& view, double step) {
    const double s = 2.7;
    double y = view.side + 3.5;
    const auto row = [&](const std::string& words, Stroke stroke) {
        if (stroke.width > 0) d.line({2, y - 0.9}, {10, y - 0.9}, stroke);
        d.text({12, y}, words, s);
        y += 4.2;
    };
    row("trace; rings every " + length_with_unit(step, view.unit), {Ink::touch, 0.35});
    if (!seat.circles) return;
    const auto& c = *seat.circles;
    const auto words = [&](const char* name, const numerics::ReferenceCircle& circle) {
        return fmt::format("{}: out-of-round {}", name, length_with_unit(circle.out_of_round, view.unit));
    };
    row(words("least squares", c.ls), {Ink::line, 0.25});
    row(words("minimum zone", c.mz), {Ink::line, 0.25, "1.4 0.9"});
    row(words("circumscribed", c.mc), {Ink::line, 0.2, "0.5 0.8"});
    row(words("inscribed", c.mi), {Ink::faint, 0.3, "2.4 0.8 0.4 0.8"});
    if (seat.eccentricity)
        row(fmt::format("off axis {} towards {:.0f} deg", length_with_unit(seat.eccentricity, view.unit),
                        deg(*seat.eccentricity_direction)),
            {Ink::warn, 0.35});
    if (seat.slip)
        row(fmt::format("zero slipped by {} here", length_with_unit(seat.slip->step, view.unit)),
            {Ink::warn, 0.4, "1.4 0.9"});
}

void draw_marks_of_angle(Drawing& d, const Polar& polar, double radius) {
    for (int quarter = 0; quarter < 4; ++quarter) {
        const double t = pi / 2 * quarter;
        const Vec2 u(std::cos(t), -std::sin(t));
        d.line(polar.centre + radius * u, polar.centre + (radius + 1.5) * u, {Ink::line, 0.2});
        d.text(polar.centre + (radius + 4.2) * u + Vec2(0, 1), fmt::format("{}°", 90 * quarter), 2.7,
               Anchor::middle);
    }
}

}  // namespace

Drawing draw_trace(const job::Job& job, const prove::SeatProof& seat, const TraceView& view) {
    const bool full = view.detail == TraceDetail::full;
    const std::string id = job.head.valves[seat.valve].id;
    const double height = full ? view.side + (seat.slip ? 33 : 29) : view.side + 4;
    Drawing d(view.side, height, fmt::format("Runout trace of seat {}, head {}", id, seat.head),
              "Polar trace, deviations enlarged, with reference circles");
    if (seat.readings.empty()) {
        d.text({view.side / 2, view.side / 2}, "no trace", full ? 4 : 2.4, Anchor::middle, Ink::faint);
        return d;
    }
    const auto [low, high] = std::minmax_element(seat.readings.begin(), seat.readings.end());
    Polar polar;
    polar.centre = {view.side / 2, view.side / 2};
    const double outer = view.side / 2 - (full ? 8 : 1.5);
    polar.mean = (*low + *high) / 2;
    const double reach = std::max((*high - *low) / 2, 1e-6);
    const double step = nice_step(full ? reach / 2 : reach, view.unit);  // few rings in a small picture
    const double drawn = step * std::ceil(reach / step - 1e-9);
    polar.base = 0.62 * outer;
    polar.gain = (outer - polar.base) / drawn;
    draw_rings(d, polar, drawn, step);
    if (full) draw_marks_of_angle(d, polar, outer);
    if (seat.circles) {
        draw_limacon(d, polar, seat.circles->ls, {Ink::line, full ? 0.25 : 0.15});
        if (full) {
            draw_zone(d, polar, seat.circles->mz, {Ink::line, 0.25, "1.4 0.9"});
            draw_limacon(d, polar, seat.circles->mc, {Ink::line, 0.2, "0.5 0.8"});
            draw_limacon(d, polar, seat.circles->mi, {Ink::faint, 0.3, "2.4 0.8 0.4 0.8"});
        }
    }
    draw_readings(d, polar, seat, {Ink::touch, full ? 0.35 : 0.25});
    if (seat.slip) {
        const Vec2 u(std::cos(seat.slip->angle), -std::sin(seat.slip->angle));
        d.line(polar.centre + 0.15 * outer * u, polar.centre + outer * u, {Ink::warn, 0.4, "1.4 0.9"});
    }
    if (full && seat.eccentricity) {
        const double t = *seat.eccentricity_direction;
        const Vec2 tip = polar.centre + polar.gain * *seat.eccentricity * Vec2(std::cos(t), -std::sin(t));
        d.line(polar.centre, tip, {Ink::warn, 0.5});
        d.disc(tip, 0.7, Ink::warn);
    }
    if (full)
        draw_legend(d, seat, view, step);
    else {
        // A narrow picture is named by its seat; the value stands in the table above it.
        constexpr double narrow = 20;
        const std::string swing = view.side < narrow ? "" : ": " + length(seat.tir, view.unit);
        const char* slipped = !seat.slip ? "" : view.side < narrow ? " !" : ", slipped";
        d.text({view.side / 2, view.side + 2.6}, id + swing + slipped, 2.5, Anchor::middle,
               seat.slip ? Ink::warn : Ink::line);
    }
    return d;
}

Drawing draw_harmonics(const job::Job& job, const prove::SeatProof& seat, double width, LengthUnit unit) {
    const double left = 16, right = 3, top = 6, bar_room = 34, height = top + bar_room + 12;
    Drawing d(width, height,
              fmt::format("Harmonics of seat {}, head {}", job.head.valves[seat.valve].id, seat.head),
              "Bars of amplitude by order, whiskers one standard uncertainty");
    double most = 0;
    for (const auto& h : seat.harmonics) most = std::max(most, h.amplitude + h.amplitude_u.value_or(0));
    if (most <= 0) {
        d.text({width / 2, height / 2}, "no shape to show", 3.2, Anchor::middle, Ink::faint);
        return d;
    }
    const double step = nice_step(most / 3, unit);
    const double full = step * std::ceil(most / step - 1e-9);
    const double in_unit = unit == LengthUnit::inch ? mm_per_inch : 1;
    const int usual = unit == LengthUnit::inch ? 4 : 3;
    const int digits = std::max(usual, static_cast<int>(std::ceil(-std::log10(step / in_unit) - 1e-9)));
    const auto y_of = [&](double v) { return top + bar_room * (1 - v / full); };
    for (double v = 0; v <= full * 1.001; v += step) {
        d.line({left, y_of(v)}, {width - right, y_of(v)},
               {v == 0 ? Ink::line : Ink::faint, v == 0 ? 0.25 : 0.1});
        d.text({left - 1.5, y_of(v) + 0.9}, fmt::format("{:.{}f}", v / in_unit, digits), 2.6, Anchor::end);
    }
    const double slot = (width - left - right) / 15;
    for (const auto& h : seat.harmonics) {
        const double x = left + slot * (h.order - 0.5), y = y_of(h.amplitude), w = 0.55 * slot;
        d.polygon({{x - w / 2, y_of(0)}, {x - w / 2, y}, {x + w / 2, y}, {x + w / 2, y_of(0)}}, Ink::touch,
                  h.order == 1 ? 0.35 : 0.8, {Ink::touch, 0.15});
        if (h.amplitude_u)
            d.line({x, y_of(std::max(0.0, h.amplitude - *h.amplitude_u))},
                   {x, y_of(h.amplitude + *h.amplitude_u)}, {Ink::line, 0.3});
    }
    for (int order = 1; order <= 15; ++order)
        d.text({left + slot * (order - 0.5), top + bar_room + 4}, std::to_string(order), 2.6, Anchor::middle);
    d.text({left + (width - left - right) / 2, top + bar_room + 9}, "times per turn", 2.8, Anchor::middle);
    d.text({1, 3.5}, fmt::format("amplitude, {}", unit_name(unit)), 2.8);
    return d;
}

}  // namespace seatwright::papers
