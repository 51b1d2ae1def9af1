#include "seatwright/survey/rows.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/survey/ball.hpp"
#include "seatwright/words/english_survey.hpp"

namespace seatwright::survey {
namespace {

constexpr std::array axis_names{"X", "Y", "Z"};
constexpr std::array axis_keys{"x", "y", "z"};

// "hole H2", "the valve head of 1I".
Sentence thing(const Point& p) {
    switch (p.what) {
        case What::deck:
            return sentence<"the-deck">();
        case What::valve_head:
            return sentence<"the-valve-head">("valve"_is = p.id);
        case What::hole:
            return sentence<"hole">("hole"_is = p.id);
        case What::seat:
            return sentence<"seat">("seat"_is = p.id);
        case What::guide:
            break;
    }
    return sentence<"guide">("guide"_is = p.id);
}

// How far the centre of what touches stands from the place read; none if that cannot be said.
std::optional<double> over(const Point& p) {
    switch (p.what) {
        case What::guide:
            return 0;
        case What::hole:
            return p.ball > 0 ? ball_over_rim(p.ball, *p.diameter / 2) : 0;
        case What::deck:
            return p.ball;
        case What::valve_head:
            return p.head_height ? std::optional(*p.head_height + p.ball) : std::nullopt;
        case What::seat:
            break;
    }
    if (p.ball == 0) return 0;
    if (!p.angle) return std::nullopt;
    const double touches = ball_touches_at(p.ball, *p.angle);
    return ball_over_gauge(p.ball, *p.angle, p.diameter ? *p.diameter / 2 : touches);
}

Row row_of(const Point& p, const Layout& layout) {
    Row row;
    row.setup = layout.setup_of.at(p.setup);
    row.sd = p.sd;
    row.line = p.line;
    row.read = true;
    row.sure = p.sure;
    if (p.what == What::hole) {
        row.of = Row::Of::hole;
        row.which = layout.hole_of.at(p.id);
    } else if (p.what != What::deck) {
        row.of = Row::Of::guide;
        row.which = layout.guide_of.at(p.id);
    }
    return row;
}

void add_point(const Point& p, const Layout& layout, std::vector<Row>& rows) {
    const auto above = over(p);
    if (!above) return;
    Row row = row_of(p, layout);
    row.over = *above;
    if (p.what == What::deck) {
        row.says = Row::Says::deck;
        row.at = {*p.x, *p.y, *p.z};
        row.value = *above;
        row.key = p.key + ".z";
        row.what =
            sentence<"place-on-deck">("x"_is = as_depth(*p.x), "y"_is = as_depth(*p.y), "setup"_is = p.setup);
        rows.push_back(row);
        return;
    }
    const std::array given{&p.x, &p.y, &p.z};
    for (int axis = p.what == What::valve_head ? 2 : 0; axis < 3; ++axis) {
        const auto k = static_cast<std::size_t>(axis);
        // The spindle over a guide has no Z of its own; a bare point on a seat says where it was set down.
        if (!*given[k] || (p.what == What::guide && axis == 2)) continue;
        row.axis = axis;
        row.value = **given[k];
        row.key = p.key + "." + axis_keys[k];
        row.what =
            sentence<"figure-of">("figure"_is = axis_names[k], "thing"_is = thing(p), "setup"_is = p.setup);
        rows.push_back(row);
    }
}

void add_level(const Level& l, const Layout& layout, std::vector<Row>& rows) {
    Row row;
    row.says = Row::Says::lean;
    row.setup = layout.setup_of.at(l.setup);
    row.axis = l.across == job::Across::cant ? 0 : 1;
    row.line = l.line;
    row.read = true;
    row.sure = l.sure;
    row.sd = l.sd;
    if (!l.on_deck) {
        row.of = Row::Of::guide;
        row.which = layout.guide_of.at(l.id);
    }
    const auto say = [&](double value, double sign, const char* which) {
        row.value = value;
        row.sign = sign;
        row.key = fmt::format("{}.{}", l.key, which);
        const auto figure = "figure"_is = row.axis == 0 ? "cant" : "incline";
        const auto of = "thing"_is =
            l.on_deck ? sentence<"the-deck">() : sentence<"guide">("guide"_is = l.id);
        const auto setup = "setup"_is = l.setup;
        row.what = sign < 0 ? sentence<"lean-turned-round">(figure, of, setup)
                            : sentence<"lean-of">(figure, of, setup);
        rows.push_back(row);
    };
    say(l.first, 1, "first");
    if (l.second) say(*l.second, -1, "second");
}

struct Sensed {
    double value;
    const Point* first;  // the line that first has it
    std::size_t lines;
};

// Readings of one setup's tilt or swing: equal ones are one reading.
std::vector<Sensed> sensed(const Readings& readings, const std::string& setup,
                           std::optional<double> Point::*angle) {
    std::vector<Sensed> out;
    for (const auto& p : readings.points) {
        if (p.setup != setup || !(p.*angle)) continue;
        const auto at = std::find_if(out.begin(), out.end(),
                                     [&](const Sensed& s) { return std::abs(s.value - *(p.*angle)) < 1e-9; });
        if (at == out.end()) {
            out.push_back({*(p.*angle), &p, 1});
        } else {
            ++at->lines;
        }
    }
    return out;
}

void add_attitude(const Readings& readings, const Layout& layout, std::size_t setup, bool swing,
                  std::vector<Row>& rows) {
    const auto all = sensed(readings, layout.setups[setup], swing ? &Point::swing : &Point::tilt);
    // Nearer than this two are readings of one attitude.
    const double near = 10 * readings.sensor_sd;
    const auto lines_near = [&](double value) {
        std::size_t lines = 0;
        for (const auto& s : all)
            if (std::abs(s.value - value) <= near) lines += s.lines;
        return lines;
    };
    std::size_t lines = 0;
    for (const auto& s : all) lines += s.lines;
    for (const auto& s : all) {
        Row row;
        row.says = swing ? Row::Says::swing : Row::Says::tilt;
        row.setup = setup;
        row.value = s.value;
        row.sd = readings.sensor_sd;
        row.line = s.first->line;
        row.key = s.first->key + (swing ? ".swing" : ".tilt");
        row.what =
            sentence<"of-setup">("figure"_is = swing ? "swing" : "tilt", "setup"_is = layout.setups[setup]);
        row.read = true;
        row.sure = s.first->sure;
        if (const auto agree = lines_near(s.value); 2 * agree < lines && !row.sure) {
            row.aside = true;
            row.why = sentence<"most-otherwise">("agree"_is = agree, "lines"_is = lines);
        }
        rows.push_back(row);
    }
}

}  // namespace

std::vector<Row> rows_of(const Readings& readings, const Layout& layout) {
    std::vector<Row> rows;
    for (const auto& p : readings.points) add_point(p, layout, rows);
    for (const auto& l : readings.levels) add_level(l, layout, rows);
    for (std::size_t s = 0; s < layout.setups.size(); ++s)
        for (const bool swing : {false, true}) add_attitude(readings, layout, s, swing, rows);
    return rows;
}

std::vector<Row> zero_rows(const Readings& readings, const Layout& layout) {
    std::vector<Row> rows;
    if (readings.zero != SensorZero::deck) return rows;
    for (const auto unknown : {layout.tilt_zero(), layout.swing_zero()}) {
        Row row;
        row.says = Row::Says::sum;
        row.weights = {{unknown, 1}};
        row.sd = readings.sensor_sd;
        rows.push_back(row);
    }
    return rows;
}

std::vector<Row> turning_rows(const Layout& layout) {
    std::vector<Row> rows;
    if (!layout.clamped_once) return rows;
    for (std::size_t s = 1; s < layout.setups.size(); ++s)
        for (int axis = 0; axis < 4; ++axis) {
            Row row;
            row.says = Row::Says::turning;
            row.setup = s;
            row.axis = axis;
            row.sd = axis == 3 ? turning_yaw_sd : turning_sd;
            rows.push_back(row);
        }
    return rows;
}

std::vector<Row> set_off_rows(const Layout& layout) {
    std::vector<Row> rows;
    for (std::size_t s = 0; s < layout.setups.size(); ++s)
        for (const int axis : {0, 1}) {
            Row row;
            row.says = Row::Says::sum;
            row.weights = {{layout.set_off(s, axis), 1}};
            row.sd = set_off_sd;
            rows.push_back(row);
        }
    return rows;
}

std::optional<Row> plumb_row(const Readings& readings, const Layout& layout, std::size_t g, int axis) {
    for (const auto& p : readings.points) {
        if (p.what != What::guide || p.id != layout.guides[g] || (!p.x && !p.y)) continue;
        Row row;
        row.says = Row::Says::plumb;
        row.of = Row::Of::guide;
        row.which = g;
        row.setup = layout.setup_of.at(p.setup);
        row.axis = axis;
        row.sd = std::hypot(plumb_sd, readings.sensor_sd);
        row.line = p.line;
        row.key = p.key;
        return row;
    }
    return std::nullopt;
}

}  // namespace seatwright::survey
