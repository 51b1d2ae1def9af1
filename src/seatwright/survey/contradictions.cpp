#include "seatwright/survey/contradictions.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <set>

#include "seatwright/base/numerics/median.hpp"
#include "seatwright/survey/askew.hpp"
#include "seatwright/survey/pattern.hpp"
#include "seatwright/words/english_survey.hpp"

namespace seatwright::survey {
namespace {

using Says = Row::Says;
using Of = Row::Of;

// Sets aside rows of a guide: of that kind, in that setup (none: all), that way (none: both).
std::size_t set_aside(State& state, std::size_t guide, Says says, std::optional<std::size_t> setup,
                      std::optional<int> axis, const Sentence& why) {
    std::size_t n = 0;
    for (auto& row : state.rows) {
        if (row.aside || row.sure || !row.read || row.says != says || row.of != Of::guide ||
            row.which != guide)
            continue;
        if (setup && row.setup != *setup) continue;
        if (axis && row.axis != *axis) continue;
        row.aside = true;
        row.by_others = false;
        row.why = why;
        ++n;
    }
    return n;
}

// The guide's axis if the signs of its level readings that way were missed (bit 1: incline, bit 0: cant).
Vec3 axis_with_signs(const State& state, std::size_t guide, int flips) {
    for (const auto& row : state.rows) {
        if (row.aside || row.says != Says::lean || row.of != Of::guide || row.which != guide) continue;
        const Mat3 r = turn_of(state.layout, row.setup, state.solution.unknowns);
        Vec3 m = r * state.axis(guide);
        if ((flips & 1) != 0) m.x() = -m.x();
        if ((flips & 2) != 0) m.y() = -m.y();
        return r.transpose() * m;
    }
    return state.axis(guide);
}

double plumb_error(const State& state, std::size_t setup, const Vec3& axis) {
    return angle_between(turn_of(state.layout, setup, state.solution.unknowns) * axis, Vec3::UnitZ());
}

// Like guides of other cylinders, their leans as far as known, `even` cylinders' cant the other way round if
// the order is mirrored: the middle of them.
std::optional<Vec3> like_axis(const State& state, std::size_t guide,
                              const std::vector<std::size_t>& doubted) {
    const auto name = *guide_name(state.layout.guides[guide]);
    std::vector<double> incline, cant;
    for (std::size_t g = 0; g < state.layout.guides.size(); ++g) {
        const auto other = *guide_name(state.layout.guides[g]);
        if (g == guide || other.letters != name.letters || std::count(doubted.begin(), doubted.end(), g) > 0)
            continue;
        if (!state.closed(g, 3) || !state.closed(g, 4)) continue;
        incline.push_back(state.solution.unknowns[state.layout.guide(g) + 3]);
        cant.push_back(state.solution.unknowns[state.layout.guide(g) + 4]);
    }
    if (incline.empty()) return std::nullopt;
    return guide_axis(numerics::middle_one(incline), numerics::middle_one(cant));
}

// Signs of its level readings that somebody stands by, as signs_missed has them.
int signs_stood_by(const State& state, std::size_t guide) {
    int signs = 0;
    for (const auto& row : state.rows)
        if (row.sure && row.says == Says::lean && row.of == Of::guide && row.which == guide)
            signs |= sign_bit(row.axis);
    return signs;
}

// Which signs of its level readings would make it plumb: 1 cant, 2 incline, 3 both; 0: none.
int signs_missed(const State& state, std::size_t guide, std::size_t setup) {
    const int stood_by = signs_stood_by(state, guide);
    for (const int flips : {2, 1, 3})
        if ((flips & stood_by) == 0 &&
            plumb_error(state, setup, axis_with_signs(state, guide, flips)) < not_plumb)
            return flips;
    return 0;
}

List signs_of(int flips) {
    std::vector<std::string> names;
    if ((flips & 2) != 0) names.emplace_back("incline");
    if ((flips & 1) != 0) names.emplace_back("cant");
    return list_of(names, Join::with_and);
}

// The signs that would make every doubted guide of a row plumb where it was read; 0: none, or it is not the
// row's: a guide of it that was not doubted stands plumb, or one not read yet was levelled the other way.
int signs_missed_in(const State& state, const std::vector<std::size_t>& row,
                    const std::vector<std::size_t>& doubted) {
    int flips = 3;
    std::set<std::size_t> setups;
    for (const auto g : row) {
        const auto over = state.over_in(g);
        if (std::count(doubted.begin(), doubted.end(), g) > 0) {
            flips &= signs_missed(state, g, *over);
            setups.insert(*over);
        } else if (out_of_plumb(state, g)) {
            return 0;
        }
    }
    // Where the order alternates a guide of the next cylinder has the other cant.
    const auto parity = [&](std::size_t g) { return guide_name(state.layout.guides[g])->cylinder % 2; };
    const auto comparable = [&](std::size_t g) {
        return (flips & sign_bit(0)) == 0 || std::any_of(row.begin(), row.end(), [&](std::size_t other) {
                   return std::count(doubted.begin(), doubted.end(), other) > 0 && parity(other) == parity(g);
               });
    };
    const auto agrees_there = [&](std::size_t g) {
        return comparable(g) && !state.over_in(g) && state.levelled(g, 0) && state.levelled(g, 1) &&
               std::any_of(setups.begin(), setups.end(),
                           [&](std::size_t s) { return plumb_error(state, s, state.axis(g)) < not_plumb; });
    };
    if (setups.empty() || std::any_of(row.begin(), row.end(), agrees_there)) return 0;
    return flips;
}

// Like guides of all cylinders are levelled one after another: a sign is missed in all of them, and nothing
// but the tilt in which the first stands plumb contradicts it.
bool ask_signs_of_rows(State& state, const std::vector<std::size_t>& doubted) {
    std::map<std::string, std::vector<std::size_t>> rows;
    for (std::size_t g = 0; g < state.layout.guides.size(); ++g)
        rows[guide_name(state.layout.guides[g])->letters].push_back(g);
    bool any = false;
    for (const auto& [letters, row] : rows) {
        const int flips = signs_missed_in(state, row, doubted);
        if (flips == 0) continue;
        const auto first = std::find_if(row.begin(), row.end(), [&](std::size_t g) {
            return std::count(doubted.begin(), doubted.end(), g) > 0;
        });
        const auto why = sentence<"row-sign">("figures"_is = signs_of(flips),
                                              "setup"_is = state.layout.setups[*state.over_in(*first)]);
        for (const auto g : row) {
            for (const int axis : {0, 1})
                if ((flips & sign_bit(axis)) != 0) set_aside(state, g, Says::lean, std::nullopt, axis, why);
            state.signs_asked[g] |= flips;
        }
        any = true;
    }
    return any;
}

// The guide that was meant: it would stand plumb where `guide` was read, and the other way round.
std::optional<std::size_t> swapped_with(const State& state, std::size_t guide, std::size_t setup,
                                        const std::vector<std::size_t>& doubted) {
    for (const auto other : doubted) {
        const auto there = state.over_in(other);
        if (other == guide || !there) continue;
        if (plumb_error(state, setup, state.axis(other)) < not_plumb &&
            plumb_error(state, *there, state.axis(guide)) < not_plumb)
            return other;
    }
    return std::nullopt;
}

bool judge_plumb(State& state) {
    std::vector<std::size_t> doubted;
    for (std::size_t g = 0; g < state.layout.guides.size(); ++g)
        if (const auto out = out_of_plumb(state, g); out && *out > not_plumb) doubted.push_back(g);
    if (doubted.empty()) return false;
    if (ask_signs_of_rows(state, doubted)) return true;
    bool any = false;
    for (const auto g : doubted) {
        const auto s = *state.over_in(g);
        const std::string& id = state.layout.guides[g];
        const std::string there = state.layout.setups[s];
        const auto far = "far"_is = sentence<"out-of-plumb">(
            "guide"_is = id, "off"_is = as_degrees(*out_of_plumb(state, g), 1), "setup"_is = there);
        const auto like = like_axis(state, g, doubted);
        const bool levels_agree = like && angle_between(*like, state.axis(g)) < not_plumb;
        const int flips = signs_missed(state, g, s);
        if (const auto other = swapped_with(state, g, s, doubted)) {
            const auto why =
                sentence<"swapped">(far, "guide"_is = id, "other"_is = state.layout.guides[*other]);
            any |= set_aside(state, g, Says::coordinate, std::nullopt, std::nullopt, why) > 0;
            if (!levels_agree) any |= set_aside(state, g, Says::lean, std::nullopt, std::nullopt, why) > 0;
        } else if (flips != 0 && !levels_agree) {
            const auto why = sentence<"sign-missed">(far, "figures"_is = signs_of(flips));
            for (const int axis : {0, 1})
                if ((flips & sign_bit(axis)) != 0)
                    any |= set_aside(state, g, Says::lean, std::nullopt, axis, why) > 0;
            // With nothing like it another guide may have been under the spindle as well.
            if (!like) any |= set_aside(state, g, Says::coordinate, s, std::nullopt, why) > 0;
        } else {
            const auto why = sentence<"another-guide">(far);
            any |= set_aside(state, g, Says::coordinate, s, std::nullopt, why) > 0;
            if (!levels_agree) any |= set_aside(state, g, Says::lean, std::nullopt, std::nullopt, why) > 0;
        }
    }
    state.bad += any ? 1 : 0;
    return any;
}

bool judge_pattern(State& state) {
    const auto pattern = pattern_of(state);
    if (!pattern) return false;
    bool any = false;
    for (const auto g : pattern->strays) {
        const std::string& id = state.layout.guides[g];
        std::vector<std::string> swapped;
        for (const auto other : pattern->strays) {
            const Vec2 here = pattern->expected[g] + pattern->off[g],
                       there = pattern->expected[other] + pattern->off[other];
            if (other != g && (here - pattern->expected[other]).norm() < 2 * not_in_pattern &&
                (there - pattern->expected[g]).norm() < 2 * not_in_pattern)
                swapped.push_back(state.layout.guides[other]);
        }
        const auto guide = "guide"_is = id;
        const auto off = "off"_is = as_depth(pattern->off[g].norm());
        const Sentence why =
            !swapped.empty()
                ? sentence<"off-pattern-swapped">(guide, off, "others"_is = list_of(swapped, Join::with_and))
            : pattern->off[g].cwiseAbs().maxCoeff() > least_stray ? sentence<"off-pattern">(guide, off)
                                                                  : sentence<"off-pattern-or-another">(guide);
        if (set_aside(state, g, Says::coordinate, std::nullopt, std::nullopt, why) > 0) {
            ++state.bad;
            any = true;
        }
    }
    return any;
}

// Two holes' Y make a setup's yaw: where other things say that it lies askew one of them is wrong.
bool judge_yaws(State& state) {
    bool any = false;
    double straightest = 1e9;
    for (std::size_t s = 0; s < state.layout.setups.size(); ++s) {
        const auto at = state.layout.setup(s) + 2;
        const double yaw = state.solution.unknowns[at];
        if (state.u(at) <= open_lean && std::abs(yaw) < std::abs(straightest)) straightest = yaw;
    }
    for (std::size_t s = 0; s < state.layout.setups.size(); ++s) {
        if (state.u(state.layout.setup(s) + 2) > open_lean) continue;
        const Sentence askew = askew_words(state, s, straightest);
        if (askew.empty()) continue;
        const auto why = sentence<"yaw">("askew"_is = askew);
        bool here = false;
        for (auto& row : state.rows) {
            if (row.aside || row.sure || row.says != Says::coordinate || row.of != Of::hole ||
                row.setup != s || row.axis != 1)
                continue;
            row.aside = here = true;
            row.by_others = false;
            row.why = why;
        }
        state.bad += here ? 1 : 0;
        any |= here;
    }
    return any;
}

// Of like guides the one whose figure is far from the middle of the others.
bool judge_like(State& state, int figure) {
    bool any = false;
    const auto& layout = state.layout;
    const double most = figure == 2 ? not_like_height : not_like_lean;
    for (std::size_t g = 0; g < layout.guides.size(); ++g) {
        if (!state.closed(g, figure)) continue;
        const auto value = [&](std::size_t i) {
            const double v = state.solution.unknowns[layout.guide(i) + figure];
            return figure == 4 ? std::abs(v) : v;  // alternate order turns the sign of cant
        };
        std::vector<double> others;
        for (std::size_t i = 0; i < layout.guides.size(); ++i)
            if (i != g && state.closed(i, figure) &&
                guide_name(layout.guides[i])->letters == guide_name(layout.guides[g])->letters)
                others.push_back(value(i));
        if (others.size() < 2) continue;
        const double middle = numerics::middle_one(others);
        std::size_t agree = 0;
        for (const double v : others) agree += std::abs(v - middle) < most ? 1 : 0;
        if (agree != others.size() || std::abs(value(g) - middle) <= most) continue;
        const std::string& id = layout.guides[g];
        std::size_t n = 0;
        if (figure == 2) {
            const auto why =
                sentence<"unlike-height">("seat"_is = id, "off"_is = as_depth(std::abs(value(g) - middle)));
            n = set_aside(state, g, Says::coordinate, std::nullopt, std::nullopt, why);
        } else {
            const auto why = sentence<"unlike-lean">("guide"_is = id,
                                                     "off"_is = as_degrees(std::abs(value(g) - middle), 1));
            n = set_aside(state, g, Says::lean, std::nullopt, figure == 3 ? 1 : 0, why);
        }
        if (n > 0) {
            ++state.bad;
            any = true;
        }
    }
    return any;
}

}  // namespace

std::optional<double> out_of_plumb(const State& state, std::size_t guide) {
    const auto s = state.over_in(guide);
    if (!s || !state.levelled(guide, 0) || !state.levelled(guide, 1)) return std::nullopt;
    // How well the lean in that setup is known, whatever is open of both.
    double u = 0;
    for (const int axis : {0, 1}) {
        Row row;
        row.says = Says::plumb;
        row.of = Of::guide;
        row.which = guide;
        row.setup = *s;
        row.axis = axis;
        Gradient g;
        model(state.layout, row, state.solution.unknowns, g);
        u = std::max(u, variance_of(g, state.solution.covariance));
    }
    if (std::sqrt(u) > not_plumb / 3) return std::nullopt;
    return plumb_error(state, *s, state.axis(guide));
}

bool set_contradictions_aside(State& state) {
    if (judge_plumb(state)) return true;
    if (judge_like(state, 3) || judge_like(state, 4)) return true;
    return judge_yaws(state) || judge_pattern(state) || judge_like(state, 2);
}

}  // namespace seatwright::survey
