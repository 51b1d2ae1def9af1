// The batch integrated: given what seats share (pose and attitude of each setup, each Z zero) they are
// independent; over what they share goes a sum of evenly spread points, scrambled several times, whose
// scatter is the error.
#pragma once

#include <vector>

#include "seatwright/forecast/batch.hpp"
#include "seatwright/forecast/chance_table.hpp"

namespace seatwright::forecast {

struct Rates {
    double good = 0;
    double error = 0;  // 95 % of the computation alone
    // With gauges known: P(pass), P(fail), P(bad and passed), P(good and failed), P(good and undecided).
    bool judged = false;
    double pass = 0, fail = 0, consumer = 0, producer_fail = 0, producer_undecided = 0;
    double consumer_error = 0, producer_fail_error = 0;  // 95 % of the computation alone
    std::vector<double> by_head;                         // P(good) at head 1, 2, …
    // P(good) of the batch by each scramble of the points: what two forecasts on the same points differ by
    // has an error of its own.
    std::vector<double> each, passed_each;  // and P(pass), where it is judged
};

struct Effort {
    std::size_t points = 128;          // of each scramble to begin with, a power of two
    std::size_t most_points = 16384;   // twice as many until `enough` is reached or this
    double enough = 1e-4;              // 95 % of the pass rate
    std::size_t verdict_points = 128;  // of each scramble, lines along which risks of heights are summed;
                                       // 0: neither verdicts nor risks are wanted
    double fineness = 1;               // of sums over attitudes: larger where less will do
};

// Throws nothing; every figure finite. `tables`: where tables made before lie, null = nowhere.
Rates integrated(const Batch& batch, const Effort& effort = {}, Tables* tables = nullptr);

}  // namespace seatwright::forecast
