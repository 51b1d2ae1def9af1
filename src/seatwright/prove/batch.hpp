// One characteristic over the heads: charts, capability, drift.
#pragma once

#include <vector>

#include "seatwright/prove/measured.hpp"

namespace seatwright::prove {

// One value of the series with where it comes from.
struct Sample {
    std::size_t head = 0;  // ordinal of the head among those on record, from 0
    std::size_t valve = 0;
    double value = 0;
    std::string cutter;  // empty = not said
};

// What a head is called on the drift's axis: its own number when all heads are called by ascending whole
// numbers, else 1, 2, 3, … in order of first appearance.
std::vector<double> head_numbers(const std::vector<std::string>& heads);

struct SeriesLimits {
    std::optional<double> low, high;
};

// The chart is of individuals and moving ranges when every head brings one value, of means and ranges up to
// ten values a head, else (or with unequal numbers) of means and standard deviations. Heads with no value are
// skipped. A change of cutter between heads breaks the moving range, the run rules and the drift (which is of
// the last stretch). Needs values from two heads; none otherwise. All heads' values keep their order.
std::optional<Series> make_series(std::string what, job::Kind kind, const std::vector<Sample>& samples,
                                  const std::vector<std::string>& heads, const SeriesLimits& limits);

// The samples of every characteristic and kind, in the order in which series are told.
struct Samples {
    std::string what;  // "runout", "width", "stem height", "eccentricity", "vacuum"
    job::Kind kind = job::Kind::intake;
    std::vector<Sample> all;
};
std::vector<Samples> samples_of(const job::Job& job, const std::vector<MeasuredSeat>& seats);

// Every series of a proof's seats.
std::vector<Series> make_batch(const job::Job& job, const std::vector<Samples>& samples,
                               const std::vector<std::string>& heads);

}  // namespace seatwright::prove
