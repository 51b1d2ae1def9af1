// The batch drawn head by head. Same seed, same bits, whatever the number of threads or the vector width:
// each head's numbers come from its own counters, and what is counted is whole numbers.
//
// Memory does not grow with the number of heads. Lengths mm.
#pragma once

#include <atomic>
#include <cstdint>
#include <functional>
#include <vector>

#include "seatwright/forecast/batch.hpp"

namespace seatwright::forecast {

// One figure of one kind: counts in equal bars, sums in fixed point (2^-30 mm), so that their order is
// nothing.
struct DrawnFigure {
    double low = 0, high = 0;  // of the bars; what lies outside is in the first and last
    std::vector<std::uint64_t> bars;
    std::uint64_t n = 0, within = 0;
    std::int64_t sum = 0;      // of values less `offset`, in 2^-30 mm
    std::int64_t squares = 0;  // of the same, in 2^-30 mm²
    double offset = 0;
    bool limited = false;
};

struct Drawn {
    std::uint64_t heads = 0;  // drawn; fewer than asked for where it was stopped
    std::uint64_t good = 0, pass = 0, fail = 0;
    std::uint64_t consumer = 0, producer_fail = 0, producer_undecided = 0;
    bool judged = false;                               // the gauges are known
    std::vector<std::uint64_t> by_head, good_by_head;  // of the batch's heads
    std::vector<DrawnFigure> figures;  // runout, width, stem height, each intake, exhaust; empty bars: none
};

struct DrawTask {
    const Batch& batch;
    std::uint64_t heads = 0, seed = 1;
    int threads = 1;
    const std::atomic<bool>* stop = nullptr;                // set by another thread: stop soon
    std::function<void(std::uint64_t done)> progress = {};  // from one of the threads, now and then
};

Drawn draw(const DrawTask& task);

// Fixed point of the sums.
inline constexpr double fixed_point = 0x1p30;

}  // namespace seatwright::forecast
