#include "seatwright/hold/level_held.hpp"

#include <algorithm>
#include <cmath>

#include "seatwright/base/allow_words.hpp"
#include "seatwright/hold/attitude.hpp"
#include "seatwright/job/allowance.hpp"
#include "seatwright/words/english_hold.hpp"

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

Part how_to_turn(const Level& level, const Setup& setup) {
    std::vector<Sentence> out;
    const auto scale = [&](const Sentence& name, const std::optional<double>& change, double planned) {
        if (change)
            out.push_back(sentence<"scale-set">("scale"_is = name, "to"_is = as_angle(planned + *change)));
    };
    scale(sentence<"tilt">(), level.set_tilt, setup.tilt);
    scale(sentence<"swing">(), level.set_swing, setup.swing);
    if (out.empty()) return sentence<"as-level-says">();
    return list_of(out, Join::commas);
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
    for (const auto& contradiction : level.contradictions)
        out.push_back({level.head,
                       {},
                       std::nullopt,
                       HeldCode::plumb,
                       sentence<"stand-unknown">("contradiction"_is = contradiction),
                       sentence<"read-those-again">()});
    const double lean = lean_of(level);
    if (!out.empty()) return out;
    if (lean <= job.fixture.plumb_limit + angle_tie) return out;
    for (const Setup& setup : setups) {
        const std::vector<GuideLean> read = read_in(level, setup);
        if (read.empty() || lean_let_pass(job, level, setup)) continue;
        const auto most =
            std::max_element(read.begin(), read.end(),
                             [](const GuideLean& a, const GuideLean& b) { return lean_of(a) < lean_of(b); });
        const std::string let_pass = "plumb " + job.head.valves[most->valve].id;
        out.push_back({level.head, setup.id, std::nullopt, HeldCode::plumb,
                       sentence<"leans">("setup"_is = setup.id, "lean"_is = as_angle(lean),
                                         "limit"_is = as_angle(job.fixture.plumb_limit)),
                       sentence<"leans-frees">("turned"_is = how_to_turn(level, setup),
                                               "allow"_is = allow_words(let_pass)),
                       let_pass});
    }
    return out;
}

}  // namespace seatwright::hold
