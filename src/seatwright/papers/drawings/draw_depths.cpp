#include "seatwright/papers/drawings/draw_depths.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/report/show.hpp"

namespace seatwright::papers {

using namespace report;

namespace {

constexpr double text_size = 2.6;
constexpr double left_room = 14, right_room = 26, top_room = 11, bottom_room = 12;  // mm of paper
constexpr int most_marks = 12;                                                      // on the scale

// Round step of a scale: 1, 2 or 5 times a power of ten, about `wanted` steps to the end.
double depth_step(double end, int wanted) {
    const double raw = end / wanted;
    const double power = std::pow(10.0, std::floor(std::log10(raw)));
    for (const double m : {1.0, 2.0, 5.0})
        if (m * power >= raw * (1 - 1e-9)) return m * power;
    return 10 * power;
}

// The furthest anything reaches, in the unit shown; limits beyond twice the deepest cut are off the scale.
double end_of_scale(const shape::Shape& shape) {
    double deepest = 0, furthest_limit = 0;
    for (const auto& s : shape.seats) {
        deepest = std::max({deepest, s.depth.value_or(0), s.cleanup.value_or(0)});
        furthest_limit = std::max(furthest_limit, s.depth_high.value_or(0));
    }
    const double end = std::max(deepest * 1.15, std::min(furthest_limit * 1.05, 2.2 * deepest));
    return end > 0 ? end : 1;
}

std::string words_of(const shape::Seat& seat, LengthUnit unit) {
    switch (seat.decision) {
        case shape::Decision::insert:
            return "new insert";
        case shape::Decision::not_allowed:
        case shape::Decision::not_measured:
        case shape::Decision::below_finish:
            return shape::word_of(seat.decision);
        case shape::Decision::cut:
            break;
    }
    return seat.depth ? length(seat.depth, unit) : "no depth";
}

void draw_scale(Drawing& d, const DepthsStyle& style, double end, double to_paper, double bottom) {
    const double unit = style.unit == LengthUnit::inch ? mm_per_inch : 1;
    const double step = depth_step(end / unit, 6);
    const int decimals = std::max(0, static_cast<int>(std::ceil(-std::log10(step) - 1e-9)));
    for (int i = 0; i <= most_marks && i * step * unit <= end * (1 + 1e-9); ++i) {
        const double x = left_room + i * step * unit * to_paper;
        d.line({x, top_room - 1}, {x, bottom + 1}, {Ink::faint, 0.12, {}});
        d.text({x, bottom + 4}, fmt::format("{:.{}f}", i * step, decimals), 2.3, Anchor::middle);
    }
}

void draw_legend(Drawing& d, double y, LengthUnit unit) {
    double x = left_room;
    d.polygon({{x, y - 1.8}, {x + 5, y - 1.8}, {x + 5, y}, {x, y}}, Ink::touch, 0.45);
    d.text({x + 6.2, y}, "depth planned", 2.3);
    x += 30;
    d.line({x + 1, y - 2.2}, {x + 1, y + 0.4}, {Ink::line, 0.45, {}});
    d.text({x + 2.8, y}, "cleanup", 2.3);
    x += 18;
    d.line({x + 1, y - 2.2}, {x + 1, y + 0.4}, {Ink::warn, 0.45, {}});
    d.text({x + 2.8, y}, "limit", 2.3);
    x += 14;
    d.text({x, y}, fmt::format("{} below the old seat", unit_name(unit)), 2.3, Anchor::start, Ink::line);
}

}  // namespace

Drawing draw_depths(const job::Job& job, const shape::Shape& shape, const DepthsStyle& style) {
    const double rows = style.row * static_cast<double>(shape.seats.size());
    const double bottom = top_room + rows;
    Drawing d(style.width, bottom + bottom_room, "Depth of every seat",
              "a bar a valve: cleanup needed, depth planned, limit");
    d.text({3, 5.5}, fmt::format("Depth of every seat, head {}", shape.head), 3.4, Anchor::start, Ink::line,
           true);
    const double end = end_of_scale(shape);
    const double to_paper = (style.width - left_room - right_room) / end;
    draw_scale(d, style, end, to_paper, bottom);
    for (std::size_t i = 0; i < shape.seats.size(); ++i) {
        const auto& seat = shape.seats[i];
        const double y = top_room + style.row * static_cast<double>(i);
        const double high = y + 0.18 * style.row, low = y + 0.82 * style.row;
        d.begin_group("depth-" + job.head.valves[seat.valve].id, job.head.valves[seat.valve].id);
        d.text({left_room - 2, y + 0.5 * style.row + text_size * 0.35}, job.head.valves[seat.valve].id,
               text_size, Anchor::end, Ink::line, true);
        const auto x = [&](double depth) { return left_room + std::clamp(depth, 0.0, end) * to_paper; };
        if (seat.depth)
            d.polygon({{x(0), high}, {x(*seat.depth), high}, {x(*seat.depth), low}, {x(0), low}}, Ink::touch,
                      0.45, {Ink::touch, 0.2, {}});
        if (seat.cleanup)
            d.line({x(*seat.cleanup), y + 0.05 * style.row}, {x(*seat.cleanup), y + 0.95 * style.row},
                   {Ink::line, 0.45, {}});
        if (seat.depth_high && *seat.depth_high <= end)
            d.line({x(*seat.depth_high), y + 0.05 * style.row}, {x(*seat.depth_high), y + 0.95 * style.row},
                   {Ink::warn, 0.45, {}});
        const bool plain = seat.decision == shape::Decision::cut && seat.depth;
        d.text({style.width - right_room + 3, y + 0.5 * style.row + text_size * 0.35},
               words_of(seat, style.unit), text_size, Anchor::start, plain ? Ink::line : Ink::warn);
        d.end_group();
    }
    d.line({left_room, top_room - 1}, {left_room, bottom + 1}, {Ink::line, 0.3, {}});
    draw_legend(d, bottom + bottom_room - 2.5, style.unit);
    return d;
}

}  // namespace seatwright::papers
