#include "seatwright/survey/state.hpp"

#include <cmath>
#include <map>

#include "seatwright/survey/start.hpp"

namespace seatwright::survey {
namespace {

// The table turned round by half a turn: what a readout would show of the same head.
Readings turned_round(Readings r) {
    const auto turn = [](std::optional<double>& value) {
        if (value) value = -*value + 0.0;
    };
    for (auto& p : r.points) {
        turn(p.x);
        turn(p.y);
        turn(p.tilt);
        turn(p.swing);
    }
    for (auto& l : r.levels) {
        l.first = -l.first + 0.0;
        turn(l.second);
    }
    return r;
}

std::vector<Row> with_frame(const State& state) {
    std::vector<Row> rows = state.rows;
    rows.insert(rows.end(), state.frame.rows.begin(), state.frame.rows.end());
    return rows;
}

// In a frame of these parts, before any reading is judged: how many guides are closed then.
std::size_t closed_in(State& state, const FrameParts& parts, const Eigen::VectorXd& from) {
    Eigen::VectorXd at = from;
    turn_into(state.layout, parts, at);
    state.parts = parts;
    state.frame = frame_of(state.layout, parts, at);
    state.solution = linearized(state.layout, with_frame(state), at);
    std::size_t n = 0;
    for (std::size_t g = 0; g < state.layout.guides.size(); ++g)
        n += state.flat_closed(Row::Of::guide, g) ? 1 : 0;
    return n;
}

// What one setup saw.
FrameParts parts_of(const Layout& layout, const std::vector<Row>& rows, std::size_t setup) {
    FrameParts out{
        std::vector<bool>(layout.holes.size()), std::vector<bool>(layout.guides.size()), {}, setup};
    std::vector<int> holes(layout.holes.size()), guides(layout.guides.size());
    for (const auto& row : rows) {
        if (row.aside || row.says != Row::Says::coordinate || row.setup != setup || row.axis > 1) continue;
        auto& seen = row.of == Row::Of::hole ? holes[row.which] : guides[row.which];
        seen |= 1 << row.axis;
    }
    for (std::size_t h = 0; h < holes.size(); ++h) out.holes[h] = holes[h] == 3;
    for (std::size_t g = 0; g < guides.size(); ++g) out.guides[g] = guides[g] == 3;
    out.guides_along = {out.guides, out.guides};
    return out;
}

FrameParts closed_parts(const State& state) {
    FrameParts out = state.parts;
    for (std::size_t h = 0; h < out.holes.size(); ++h) out.holes[h] = state.flat_closed(Row::Of::hole, h);
    for (std::size_t g = 0; g < out.guides.size(); ++g) {
        out.guides[g] = state.flat_closed(Row::Of::guide, g);
        for (int axis = 0; axis < 2; ++axis)
            out.guides_along[static_cast<std::size_t>(axis)][g] = state.closed(g, axis);
    }
    return out;
}

// The setup whose own frame leaves most guides closed.
void choose_setup(State& state, const Eigen::VectorXd& from) {
    std::optional<std::size_t> best;
    std::size_t most = 0;
    for (std::size_t s = 0; s < state.layout.setups.size(); ++s) {
        const FrameParts parts = parts_of(state.layout, state.rows, s);
        const std::size_t closed = closed_in(state, parts, from);
        if (!best || closed > most) {
            best = s;
            most = closed;
        }
    }
    closed_in(state, parts_of(state.layout, state.rows, best.value_or(0)), from);
}

}  // namespace

double State::open_at(Row::Of of, std::size_t which) const {
    double coarse = 0;
    for (const auto& row : rows)
        if (!row.aside && row.says == Row::Says::coordinate && row.of == of && row.which == which)
            coarse = std::max(coarse, row.sd);
    return std::max(open_place, 5 * coarse);
}

bool State::flat_closed(Row::Of of, std::size_t which) const {
    if (of == Row::Of::guide) return closed(which, 0) && closed(which, 1);
    const auto at = layout.hole(which);
    const double most = open_at(of, which);
    return u(at) <= most && u(at + 1) <= most;
}

bool State::closed(std::size_t guide, int figure) const {
    const auto at = layout.guide(guide);
    if (figure > 2) return u(at + figure) <= open_lean;
    const double most = open_at(Row::Of::guide, guide);
    // Read at an attitude that is open a place is nowhere.
    if (const auto s = over_in(guide); s && !attitude_closed(*s)) return false;
    if (figure == 2) return u(at + 2) <= most;
    // Read plumb, X and Y hang on Z along the guide's axis: of a guide whose z is open they are known only
    // together with it, even where the frame's origin shares that.
    const Vec3 a = axis(guide);
    return u(at + figure) <= most && std::abs(a[figure] / a.z()) * u(at + 2) <= most;
}

bool State::attitude_closed(std::size_t setup) const {
    const auto at = layout.setup(setup);
    return u(at) <= open_attitude && u(at + 1) <= open_attitude && u(at + 2) <= open_attitude;
}

Vec3 State::axis(std::size_t guide) const {
    const auto at = layout.guide(guide);
    return guide_axis(solution.unknowns[at + 3], solution.unknowns[at + 4]);
}

bool State::levelled(std::size_t guide, int axis) const {
    return std::any_of(rows.begin(), rows.end(), [&](const Row& row) {
        return !row.aside && row.says == Row::Says::lean && row.of == Row::Of::guide && row.which == guide &&
               row.axis == axis;
    });
}

std::optional<std::size_t> State::over_in(std::size_t guide) const {
    for (const auto& row : rows)
        if (!row.aside && row.says == Row::Says::coordinate && row.of == Row::Of::guide &&
            row.which == guide && row.axis < 2)
            return row.setup;
    return std::nullopt;
}

Solved<State> begin_state(const Readings& readings) {
    State state;
    state.readings = readings;
    state.layout = layout_of(readings);
    const auto make = [&] {
        state.rows = rows_of(state.readings, state.layout);
        auto shared = turning_rows(state.layout);
        for (auto& row : set_off_rows(state.layout)) shared.push_back(std::move(row));
        const Start start = start_of(state.layout, state.rows);
        state.rows.insert(state.rows.end(), shared.begin(), shared.end());
        return start;
    };
    Start start = make();
    if (numbered_backwards(state.layout, start.guide_placed, start.unknowns)) {
        state.readings = turned_round(state.readings);
        state.turned = true;
        start = make();
    }
    state.signs_asked.assign(state.layout.guides.size(), 0);
    state.leans_by_plumb.assign(state.layout.guides.size(), false);
    choose_setup(state, start.unknowns);
    auto rows = with_frame(state);
    state.bad += set_gross_aside(state.layout, rows, state.solution.unknowns);
    rows.resize(state.rows.size());
    state.rows = std::move(rows);
    if (auto settled = settle(state); !settled) return tl::unexpected(settled.error());
    return state;
}

namespace {

// A head crooked on its cradle swings by its share of the tilt: where no two holes show how it lies, the
// cradle's swing says little of the head's.
void trust_swings(State& state) {
    if (state.layout.clamped_once) return;
    std::vector<std::map<std::size_t, int>> seen(state.layout.setups.size());
    for (const auto& row : state.rows)
        if (!row.aside && row.says == Row::Says::coordinate && row.of == Row::Of::hole && row.axis < 2)
            seen[row.setup][row.which] |= 1 << row.axis;
    for (auto& row : state.rows) {
        if (row.says != Row::Says::swing) continue;
        const auto& holes = seen[row.setup];
        const auto placed =
            std::count_if(holes.begin(), holes.end(), [](const auto& hole) { return hole.second == 3; });
        const double tilt = state.solution.unknowns[state.layout.setup(row.setup)];
        row.sd = placed > 1 ? state.readings.sensor_sd
                            : std::hypot(state.readings.sensor_sd, crooked_sd * std::sin(tilt));
    }
}

}  // namespace

Solved<void> settle(State& state) {
    for (int round = 0; round < 4; ++round) {
        trust_swings(state);
        auto rows = with_frame(state);
        auto sorted = sort_out(state.layout, rows, state.solution.unknowns);
        if (!sorted) return tl::unexpected(sorted.error());
        state.solution = std::move(sorted->solution);
        state.bad += sorted->bad;
        rows.resize(state.rows.size());
        state.rows = std::move(rows);
        FrameParts parts = closed_parts(state);
        if (parts == state.parts) break;
        state.parts = std::move(parts);
        turn_into(state.layout, state.parts, state.solution.unknowns);
        state.frame = frame_of(state.layout, state.parts, state.solution.unknowns);
    }
    return {};
}

}  // namespace seatwright::survey
