#include "seatwright/papers/drawings/draw_charts.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "seatwright/job/kind_word.hpp"
#include "seatwright/report/show.hpp"

namespace seatwright::papers {

using namespace report;

namespace {

constexpr double chart_left = 19, chart_right = 13, chart_top = 13, points_room = 22, spread_gap = 3.5,
                 spread_room = 10;
constexpr double chart_foot = 6.5;  // under the spread, for the heads' names
constexpr double chart_height = chart_top + points_room + spread_gap + spread_room + chart_foot;
// Of a point's panel that stays clear above the highest and below the lowest mark.
constexpr double headroom = 0.08;
// Of more points only the line and the signals are drawn.
constexpr std::size_t points_dotted = 400;
// Heads' names: size and mean advance of a letter, mm.
constexpr double name_size = 2.3, name_advance = 0.6 * name_size;

struct Panel {
    double top = 0, room = 0, low = 0, high = 1;
    double y(double v) const { return top + room * (high - v) / (high - low); }
    bool shows(double v) const { return v >= low && v <= high; }
};

Panel panel_of(double at, double room, std::vector<double> values) {
    const auto [least, most] = std::minmax_element(values.begin(), values.end());
    const double span = std::max(*most - *least, 1e-9);
    return {at, room, *least - headroom * span, *most + headroom * span};
}

// One place more than sizes are shown with: means move less than readings.
std::string value_of(const prove::Series& s, double value, LengthUnit unit) {
    if (s.what == "vacuum") return vacuum(value, unit, 2);
    return unit == LengthUnit::inch ? fmt::format("{:.5f}", value / mm_per_inch)
                                    : fmt::format("{:.4f}", value);
}

// A limit as the drawing says it.
std::string limit_of(const prove::Series& s, double value, LengthUnit unit) {
    return s.what == "vacuum" ? vacuum(value, unit) : length(value, unit);
}

// The lines under the title: limits that lie off the picture; capability and drift.
std::string limits_off(const prove::Series& s, const Panel& panel, LengthUnit unit) {
    std::vector<std::string> words;
    if (s.limit_low && !panel.shows(*s.limit_low))
        words.push_back(fmt::format("limit {} below the picture", limit_of(s, *s.limit_low, unit)));
    if (s.limit_high && !panel.shows(*s.limit_high))
        words.push_back(fmt::format("limit {} above the picture", limit_of(s, *s.limit_high, unit)));
    if (!s.limit_low && !s.limit_high) words.emplace_back("the job gives no limit");
    return fmt::format("{}", fmt::join(words, ", "));
}

std::string capability_words(const prove::Series& s) {
    std::string words;
    if (s.cpk) words = fmt::format("Cpk {:.2f} (95 %: {:.2f} to {:.2f})", *s.cpk, *s.cpk_low, *s.cpk_high);
    if (s.limit_at_head)
        words += fmt::format("{}drift meets the limit at head {:.0f}", words.empty() ? "" : ", ",
                             *s.limit_at_head);
    return words;
}

double x_of(const prove::Series& s, std::size_t i, double width) {
    const double n = static_cast<double>(s.points.size());
    return chart_left + (width - chart_left - chart_right) * (static_cast<double>(i) + 0.5) / n;
}

void level(Drawing& d, const Panel& panel, double v, double width, const std::string& words, Stroke stroke) {
    if (!panel.shows(v)) return;
    d.line({chart_left, panel.y(v)}, {width - chart_right, panel.y(v)}, stroke);
    if (!words.empty())
        d.text({width - chart_right + 1, panel.y(v) + 0.9}, words, 2.4, Anchor::start, stroke.ink);
}

const char* spread_name(prove::Chart chart) {
    switch (chart) {
        case prove::Chart::individuals:
            return "moving range";
        case prove::Chart::mean_range:
            return "range";
        case prove::Chart::mean_deviation:
            return "deviation";
    }
    return "";
}

void draw_points(Drawing& d, const prove::Series& s, const Panel& panel, double width, LengthUnit unit) {
    level(d, panel, s.centre, width, value_of(s, s.centre, unit), {Ink::line, 0.2});
    level(d, panel, s.lower, width, value_of(s, s.lower, unit), {Ink::line, 0.2, "1.4 0.9"});
    level(d, panel, s.upper, width, value_of(s, s.upper, unit), {Ink::line, 0.2, "1.4 0.9"});
    // Named on the left, clear of the control limits' numbers.
    for (const auto& limit : {s.limit_high, s.limit_low}) {
        if (!limit || !panel.shows(*limit)) continue;
        level(d, panel, *limit, width, "", {Ink::warn, 0.35});
        d.text({chart_left - 1.5, panel.y(*limit) + 0.8}, "limit " + limit_of(s, *limit, unit), 2.2,
               Anchor::end, Ink::warn);
    }
    std::map<std::string, bool> signalled;
    for (const auto& signal : s.signals) signalled[signal.head] = true;
    std::vector<Vec2> run;
    for (std::size_t i = 0; i < s.points.size(); ++i) {
        if (std::find(s.breaks.begin(), s.breaks.end(), i) != s.breaks.end()) {
            d.polyline(run, {Ink::touch, 0.2});
            run.clear();
            const double x = (x_of(s, i - 1, width) + x_of(s, i, width)) / 2;
            d.line({x, chart_top}, {x, chart_height - chart_foot}, {Ink::faint, 0.25, "1 0.8"});
        }
        run.emplace_back(x_of(s, i, width), panel.y(s.points[i]));
    }
    d.polyline(run, {Ink::touch, 0.2});
    for (std::size_t i = 0; i < s.points.size(); ++i) {
        const Vec2 p(x_of(s, i, width), panel.y(s.points[i]));
        const double size = s.points.size() <= points_dotted ? 1 : 0.5;
        if (signalled[s.heads[i]])
            d.polygon({p + size * Vec2(0, -1.4), p + size * Vec2(1.3, 0.9), p + size * Vec2(-1.3, 0.9)},
                      Ink::warn, 1, {Ink::warn, 0.1});
        else if (s.points.size() <= points_dotted)
            d.disc(p, 0.6, Ink::touch);
    }
}

void draw_spread(Drawing& d, const prove::Series& s, const Panel& panel, double width, LengthUnit unit) {
    level(d, panel, s.spread_centre, width, value_of(s, s.spread_centre, unit), {Ink::line, 0.2});
    level(d, panel, s.spread_upper, width, value_of(s, s.spread_upper, unit), {Ink::line, 0.2, "1.4 0.9"});
    d.line({chart_left, panel.top + panel.room}, {width - chart_right, panel.top + panel.room},
           {Ink::faint, 0.15});
    const std::size_t first = s.chart == prove::Chart::individuals ? 1 : 0;
    const bool dotted = s.spreads.size() <= points_dotted;
    std::vector<Vec2> run;
    for (std::size_t i = first; !dotted && i < s.spreads.size(); ++i)
        run.emplace_back(x_of(s, i, width), panel.y(s.spreads[i]));
    d.polyline(run, {Ink::touch, 0.15});
    for (std::size_t i = first; i < s.spreads.size(); ++i)
        if (dotted || s.spreads[i] > s.spread_upper)
            d.disc({x_of(s, i, width), panel.y(s.spreads[i])}, 0.45,
                   s.spreads[i] > s.spread_upper ? Ink::warn : Ink::touch);
    d.text({chart_left - 1.5, panel.top + panel.room / 2 + 1}, spread_name(s.chart), 2.2, Anchor::end);
}

// As many heads' names as do not run into each other.
void draw_names(Drawing& d, const prove::Series& s, double width) {
    std::size_t letters = 1;
    for (const auto& name : s.heads) letters = std::max(letters, name.size());
    const double slot = (width - chart_left - chart_right) / static_cast<double>(s.heads.size());
    const double wanted = name_advance * static_cast<double>(letters + 1);
    const auto every = static_cast<std::size_t>(std::max(1.0, std::ceil(wanted / slot)));
    for (std::size_t i = 0; i < s.heads.size(); i += every)
        d.text({x_of(s, i, width), chart_height - 2.6}, s.heads[i], name_size, Anchor::middle);
    d.text({1, chart_height - 2.6}, "head", name_size);
}

}  // namespace

Drawing draw_chart(const prove::Series& s, double width, LengthUnit unit) {
    const char* kind = job::kind_word(s.kind);
    Drawing d(width, chart_height, fmt::format("Control chart of {}, {}", s.what, kind),
              "Values over heads with control limits, and their spread");
    std::vector<double> values(s.points);
    values.insert(values.end(), {s.lower, s.upper, s.centre});
    // A drawing limit far outside would flatten the points: it is named instead.
    const double span =
        *std::max_element(values.begin(), values.end()) - *std::min_element(values.begin(), values.end());
    for (const auto& limit : {s.limit_low, s.limit_high})
        if (limit && std::abs(*limit - s.centre) <= 1.5 * span) values.push_back(*limit);
    const Panel above = panel_of(chart_top, points_room, values);
    std::vector<double> spreads(s.spreads);
    spreads.insert(spreads.end(), {0.0, s.spread_upper});
    const Panel below = panel_of(chart_top + points_room + spread_gap, spread_room, spreads);

    d.text({1, 4},
           fmt::format("{}, {} seats, {}", s.what, kind,
                       s.what == "vacuum" ? vacuum_unit_name(unit) : unit_name(unit)),
           3, Anchor::start, Ink::line, true);
    d.text({1, 7.8}, capability_words(s), 2.2);
    d.text({1, 11.2}, limits_off(s, above, unit), 2.2);
    d.rect({chart_left, chart_top}, width - chart_left - chart_right, points_room, {Ink::faint, 0.15});
    draw_points(d, s, above, width, unit);
    draw_spread(d, s, below, width, unit);
    draw_names(d, s, width);
    return d;
}

}  // namespace seatwright::papers
