// Least-squares harmonics of a trace, any spacing of its points.
#pragma once

#include <optional>
#include <vector>

#include "seatwright/prove/prove.hpp"
#include "seatwright/prove/trace.hpp"

namespace seatwright::prove {

inline constexpr int highest_order = 15;

struct HarmonicFit {
    double constant = 0;              // of the trace less its mean
    std::vector<Harmonic> harmonics;  // ascending order; order 1 is always among them
    std::vector<double> left;         // what they leave of each reading
    std::optional<double> noise;      // standard deviation of `left`; none when no reading is to spare
    bool complete = true;  // false: a gap or crowded angles, and only the orders the trace can tell
                           // apart are given
};

// All orders 1..min(15, (N − 1)/2) fitted together with a constant. When missing stretches or crowded angles
// make that fit swell the reading noise more than tenfold, a set of orders is searched instead: from order 1
// alone, one order is added, dropped or exchanged at a time as long as the Bayesian information criterion
// (Schwarz 1978) gains and the swelling stays within thirty. Needs N ≥ 3. Accuracy: 1e-12 of the swing for
// noise-free even traces. Cost: 100·N multiplications, 0.1 ms for the system; a few ms for the search.
HarmonicFit fit_harmonics(const Turn& turn);

// A zero that slipped once in the middle of the reading: the step that, fitted together with the harmonics,
// explains at least half of what they leave, with a false-alarm probability below 1e-6 over all places
// together (F test). None for fewer than 16 readings.
std::optional<Slip> find_slip(const Turn& turn);

}  // namespace seatwright::prove
