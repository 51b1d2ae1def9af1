#include "seatwright/survey/told.hpp"

#include <algorithm>
#include <cctype>
#include <cmath>

#include "seatwright/survey/ball.hpp"

namespace seatwright::survey {
namespace {

using Says = Row::Says;
using Of = Row::Of;

Figure figure(const State& state, Eigen::Index at, double most, double sign = 1) {
    Figure out;
    out.u = state.u(at);
    if (out.u <= most) out.value = sign * state.solution.unknowns[at] + 0.0;
    return out;
}

}  // namespace

std::vector<Valve> valves_of(const State& state) {
    std::vector<Valve> out;
    for (std::size_t g = 0; g < state.layout.guides.size(); ++g) {
        Valve v;
        v.id = state.layout.guides[g];
        v.name = *guide_name(v.id);
        const auto at = state.layout.guide(g);
        for (const auto& [k, of] :
             {std::pair{0, &v.x}, {1, &v.y}, {2, &v.z}, {3, &v.incline}, {4, &v.cant}}) {
            of->u = state.u(at + k);
            if (state.closed(g, k)) of->value = state.solution.unknowns[at + k] + 0.0;
        }
        v.covariance = state.solution.covariance.block<3, 3>(at, at);
        if (const auto s = state.over_in(g)) v.setup = state.layout.setups[*s];
        for (const auto& p : state.readings.points) {
            if (p.id != v.id || p.what != What::seat) continue;
            v.seat_angle = p.angle ? p.angle : v.seat_angle;
            if (p.diameter) {
                v.gauge_diameter = p.diameter;
            } else if (p.ball > 0 && p.angle) {
                v.gauge_diameter = 2 * ball_touches_at(p.ball, *p.angle);
            }
        }
        out.push_back(std::move(v));
    }
    std::stable_sort(out.begin(), out.end(), [](const Valve& a, const Valve& b) {
        return std::pair(a.name.cylinder, a.x.value.value_or(0)) <
               std::pair(b.name.cylinder, b.x.value.value_or(0));
    });
    return out;
}

std::vector<Hole> holes_of(const State& state) {
    std::vector<Hole> out;
    for (std::size_t h = 0; h < state.layout.holes.size(); ++h) {
        Hole hole;
        hole.id = state.layout.holes[h];
        const auto at = state.layout.hole(h);
        const double most = state.open_at(Of::hole, h);
        hole.x = figure(state, at, most);
        hole.y = figure(state, at + 1, most);
        for (const auto& p : state.readings.points)
            if (p.what == What::hole && p.id == hole.id && p.diameter) hole.diameter = p.diameter;
        out.push_back(std::move(hole));
    }
    constexpr double same_size = 0.5;
    const auto alike = [&](const Hole& of) {
        return std::count_if(out.begin(), out.end(), [&](const Hole& h) {
            return h.diameter && of.diameter && std::abs(*h.diameter - *of.diameter) < same_size;
        });
    };
    long most = 0;
    for (const auto& hole : out) most = std::max(most, alike(hole));
    for (auto& hole : out) {
        std::string lower = hole.id;
        std::transform(lower.begin(), lower.end(), lower.begin(),
                       [](unsigned char c) { return std::tolower(c); });
        if (lower.find("plug") != std::string::npos) {
            hole.kind = HoleKind::plug;
        } else if (hole.diameter && alike(hole) < most) {
            hole.kind = HoleKind::other;
        }
    }
    return out;
}

std::vector<Setup> setups_of(const State& state) {
    std::vector<Setup> out;
    const double sign = state.turned ? -1 : 1;
    for (std::size_t s = 0; s < state.layout.setups.size(); ++s) {
        Setup setup;
        setup.name = state.layout.setups[s];
        const auto at = state.layout.setup(s);
        setup.tilt = figure(state, at, open_lean, sign);
        setup.swing = figure(state, at + 1, open_lean, sign);
        setup.yaw = figure(state, at + 2, open_lean);
        double squares = 0;
        int n = 0;
        for (std::size_t i = 0; i < state.rows.size(); ++i) {
            const Row& row = state.rows[i];
            if (row.aside || row.setup != s || (row.says != Says::coordinate && row.says != Says::deck))
                continue;
            squares += std::pow(state.solution.residual[i] * row.sd, 2);
            ++n;
        }
        if (n > 0) setup.residual = std::sqrt(squares / n);
        out.push_back(std::move(setup));
    }
    return out;
}

Figure zero_of(const State& state) {
    const double sign = state.turned ? -1 : 1;
    Figure out = figure(state, state.layout.bias(), open_lean, sign);
    return out.value ? out : figure(state, state.layout.tilt_zero(), open_lean, sign);
}

std::vector<SizeFound> sizes_of(const Readings& readings) {
    std::vector<SizeFound> out;
    for (int what = 0; what <= static_cast<int>(SizeOf::below); ++what)
        for (const auto kind : job::both_kinds) {
            double sum = 0, weight = 0;
            SizeFound found{static_cast<SizeOf>(what), kind};
            for (const auto& s : readings.sizes) {
                if (s.what != found.what || guide_name(s.id)->kind != kind) continue;
                sum += s.value / (s.sd * s.sd);
                weight += 1 / (s.sd * s.sd);
                ++found.count;
            }
            if (found.count == 0) continue;
            found.value = sum / weight;
            found.u = 1 / std::sqrt(weight);
            out.push_back(found);
        }
    return out;
}

}  // namespace seatwright::survey
