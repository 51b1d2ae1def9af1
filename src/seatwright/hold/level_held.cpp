#include "seatwright/hold/level_held.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/base/allow_words.hpp"
#include "seatwright/hold/attitude.hpp"
#include "seatwright/hold/words.hpp"
#include "seatwright/job/allowance.hpp"

namespace seatwright::hold {

namespace {

double lean_of(const GuideLean& guide) {
    return std::hypot(guide.incline.value_or(0), guide.cant.value_or(0));
}

std::vector<GuideLean> read_in(const Level& level, const Setup& setup) {
    std::vector<GuideLean> out;
    for (const GuideLean& guide : level.guides)
        if (std::any_of(setup.valves.begin(), setup.valves.end(),
                        [&](const Held& held) { return held.valve == guide.valve; }))
            out.push_back(guide);
    return out;
}

std::string how_to_turn(const Level& level, const Setup& setup) {
    std::string out;
    const auto scale = [&](const char* name, const std::optional<double>& change, double planned) {
        if (change)
            out +=
                fmt::format("{}{} set to {}", out.empty() ? "" : ", ", name, angle_words(planned + *change));
    };
    scale("tilt", level.set_tilt, setup.tilt);
    scale("swing", level.set_swing, setup.swing);
    return out.empty() ? std::string("the head turned as the level says") : out;
}

}  // namespace

double lean_of(const Level& level) {
    return std::hypot(level.incline.value_or(0), level.cant.value_or(0));
}

bool read_there(const Level& level, const Setup& setup) {
    return !read_in(level, setup).empty();
}

std::optional<std::size_t> lean_let_pass(const job::Job& job, const Level& level, const Setup& setup) {
    for (const GuideLean& guide : read_in(level, setup))
        if (job::allowance_of(job, "plumb " + job.head.valves[guide.valve].id) != nullptr) return guide.valve;
    return std::nullopt;
}

std::vector<HeldBack> held_by_level(const job::Job& job, const Level& level,
                                    const std::vector<Setup>& setups) {
    std::vector<HeldBack> out;
    for (const auto& sentence : level.contradictions)
        out.push_back({level.head,
                       {},
                       std::nullopt,
                       HeldCode::plumb,
                       "how the head stands is not known: " + sentence,
                       "level readings of those guides taken again"});
    const double lean = lean_of(level);
    if (!out.empty()) return out;
    if (lean <= job.fixture.plumb_limit + angle_tie) return out;
    for (const Setup& setup : setups) {
        const std::vector<GuideLean> read = read_in(level, setup);
        if (read.empty() || lean_let_pass(job, level, setup)) continue;
        const auto most =
            std::max_element(read.begin(), read.end(),
                             [](const GuideLean& a, const GuideLean& b) { return lean_of(a) < lean_of(b); });
        out.push_back(
            {level.head, setup.id, std::nullopt, HeldCode::plumb,
             fmt::format(
                 "setup {}: by its level readings the guides lean {}, more than the plumb limit of {}",
                 setup.id, angle_words(lean), angle_words(job.fixture.plumb_limit)),
             fmt::format("{}, and the guides read again; or {}", how_to_turn(level, setup),
                         allow_words("plumb " + job.head.valves[most->valve].id))});
    }
    return out;
}

}  // namespace seatwright::hold
