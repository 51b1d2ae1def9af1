#include "seatwright/shape/heights_agree.hpp"

#include <cmath>

#include "seatwright/shape/heights.hpp"
#include "seatwright/words/english_shape.hpp"

namespace seatwright::shape {

namespace {

struct Pair {
    std::size_t valve = 0;
    double recession = 0, stem = 0;
};

std::vector<Pair> pairs_of(const job::Job& job, const std::vector<Before>& readings, job::Kind kind) {
    std::vector<Pair> out;
    for (std::size_t v = 0; v < readings.size(); ++v) {
        const job::Valve& valve = job.head.valves[v];
        const Before& b = readings[v];
        if (valve.kind != kind || !b.stem_height || !b.stem_by_setting_valve) continue;
        const double up = valve.axis().z();
        // A drawing value is the same for all of the kind and drops out of the differences.
        if (b.recession)
            out.push_back({v, *b.recession, *b.stem_height});
        else if (b.below_deck && b.below_by_setting_valve && up * up >= least_axis_squared &&
                 job.seat[kind] && job.seat[kind]->below_deck)
            out.push_back(
                {v,
                 recession_of_below_deck(*b.below_deck, b.below_after_deck_cut ? job.depth.deck_cut : 0,
                                         *job.seat[kind]->below_deck, up),
                 *b.stem_height});
    }
    return out;
}

}  // namespace

std::vector<Warning> heights_that_differ(const job::Job& job, const std::vector<Before>& readings) {
    std::vector<Warning> out;
    const double limit = 2 * std::hypot(gauge_sd, gauge_sd);
    for (const auto kind : job::both_kinds) {
        const auto pairs = pairs_of(job, readings, kind);
        if (pairs.size() < 2) continue;
        double mean = 0;
        for (const Pair& p : pairs) mean += (p.recession - p.stem) / static_cast<double>(pairs.size());
        for (const Pair& p : pairs) {
            const double apart = p.recession - p.stem - mean;
            if (std::abs(apart) <= limit) continue;
            const std::string& id = job.head.valves[p.valve].id;
            out.push_back({"shape", "heights-differ", id,
                           sentence<"heights-differ">(
                               "seat"_is = id, "apart"_is = as_length(std::abs(apart)),
                               "way"_is = apart > 0 ? sentence<"lower">() : sentence<"higher">()),
                           Severity::note});
        }
    }
    return out;
}

}  // namespace seatwright::shape
