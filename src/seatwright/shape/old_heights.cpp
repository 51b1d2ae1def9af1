#include "seatwright/shape/old_heights.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/shape/wording.hpp"

namespace seatwright::shape {

namespace {

constexpr double least_difference = 0.01;  // mm, what a touch tells

}  // namespace

Notices old_heights(const job::Job& job, const hold::Hold& hold, const HeadBefore& before,
                    const std::vector<Seat>& seats) {
    Notices notices;
    const bool deck = job.depth.from == job::DepthFrom::deck;
    for (const auto& setup : hold.setups) {
        const double zero = deck ? 0 : before.valves[setup.datum].recession.value_or(0);
        double worst = 0;
        std::string where;
        for (const auto& seat : seats) {
            const bool here = std::any_of(setup.valves.begin(), setup.valves.end(),
                                          [&](const hold::Held& h) { return h.valve == seat.valve; });
            const auto recession = before.valves[seat.valve].recession;
            if (!here || !recession || !seat.depth) continue;
            const double lower = *recession - zero;
            if (std::abs(lower) <= std::abs(worst)) continue;
            worst = lower;
            where = job.head.valves[seat.valve].id;
        }
        if (std::abs(worst) <= std::max(least_difference, job.depth.step)) continue;
        notices.warnings.push_back(
            {"shape", "old-seat-height", where,
             fmt::format(
                 "setup {}: by its reading of recession the old seat of {} lies {} {} than the program's Z "
                 "takes it, from {}: it would be cut so much {}; touch it, and set Z by that, before it is "
                 "cut",
                 setup.id, where, length_words(std::abs(worst), job.units), worst > 0 ? "lower" : "higher",
                 deck ? std::string("the deck") : "the seat of " + job.head.valves[setup.datum].id,
                 worst > 0 ? "too little" : "too deep"),
             Weight::note});
    }
    return notices;
}

}  // namespace seatwright::shape
