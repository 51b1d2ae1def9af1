// One characteristic over the heads: charts, capability, drift.
#pragma once

#include <vector>

#include "seatwright/prove/characteristic.hpp"

namespace seatwright::prove {

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
std::optional<Series> make_series(Characteristic& of, const std::vector<std::string>& heads,
                                  const SeriesLimits& limits);

// Every characteristic of either kind, without values, in the order in which series are told.
std::vector<Characteristic> characteristics(const job::Job& job);
// Adds what a seat of the head's gives of it, if anything.
void note(HeadValues& head, const Characteristic& of, const SeatProof& seat, const std::string& pilot);

// Every series there is; what has not changed is as it was.
Boxes<Series> make_batch(const job::Job& job, std::vector<Characteristic>& all,
                         const std::vector<std::string>& heads);

}  // namespace seatwright::prove
