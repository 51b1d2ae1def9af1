// forecast: how many heads of a batch will pass, why not, and what to change before the first is cut.
//
// Lengths mm, angles rad; chances 0 … 1. What is not known is none, never a number.
#pragma once

#include <atomic>
#include <cstdint>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "seatwright/forecast/known.hpp"

namespace seatwright::forecast {

// One figure of all seats of a kind over the batch, entering or not.
struct Characteristic {
    std::string what;  // "runout", "width", "stem height"
    job::Kind kind = job::Kind::intake;
    std::optional<double> mean, p05, p50, p95;  // none: heights without a planned one
    double sd = 0;
    std::optional<double> limit_low, limit_high;
    std::optional<double> pass_rate;  // of one seat; none: no limit
    std::optional<double> cpk;
    struct Bar {
        double from = 0, to = 0, share = 0;
    };
    std::vector<Bar> bars;  // a histogram from p = 0.0005 to 0.9995
};

struct Cause {
    std::string cause;
    double share = 0;  // of the mean square of all seats' runouts
    double rms = 0;    // what it alone would make, root mean square
};

struct VerdictRates {
    double pass = 0, fail = 0, undecided = 0;
};

struct Risk {
    double consumer = 0, producer = 0, producer_fail = 0, producer_undecided = 0;
};

using Setting = std::variant<double, std::string>;

struct Change {
    std::string what;
    Setting from, to;
    const char* unit = "mm";
    double pass_rate = 0;
    double gain = 0, gain_low = 0, gain_high = 0;
    bool significant = false;  // the limits of what it brings lie above 0
    // A gauge makes no head better, only what is read of it: what it changes of that. `gain`: of the heads
    // that the readings pass.
    struct AsMeasured {
        VerdictRates verdict;
        Risk risk;
        double gain = 0, gain_low = 0, gain_high = 0;
    };
    std::optional<AsMeasured> as_measured;
    double brings() const { return as_measured ? as_measured->gain : gain; }
    // What it costs, where that is known; none for a figure merely halved.
    struct Cost {
        double seconds_head = 0;       // on every head of the batch
        bool once = false;             // set once and done: what it takes is of the shelf
        double seconds_once = 0;       // to set it
        std::optional<double> amount;  // of the whole batch at the shop's rates, in `currency`
        std::string currency;
    };
    std::optional<Cost> cost;
};

struct Forecast : Notices {
    int heads = 0;
    std::vector<std::size_t> touched;  // valves, in head order
    std::optional<std::uint64_t> draws, seed;
    std::optional<double> pass_rate, pass_low, pass_high, pass_error;
    std::optional<VerdictRates> verdict;  // none: a gauge is not known
    std::optional<Risk> risk;
    std::vector<Characteristic> characteristics;
    std::vector<Cause> causes;    // largest first, adding to 1; empty where nothing makes runout
    std::vector<Change> changes;  // best first by heads that are good, then by heads that are passed
    std::vector<double> by_head;
    std::optional<int> change_at_head;
    std::vector<Input> inputs;
    double seconds = 0;
};

struct Asked {
    std::optional<int> heads;
    std::optional<std::uint64_t> draws;
    std::uint64_t seed = 1;
    int threads = 0;                          // 0: as many as the machine has
    const std::atomic<bool>* stop = nullptr;  // set by another thread: draws no more
    bool changes = true;
    bool limits = true;
};

// The job has passed job/needs.hpp for hold, find and shape. `plan` may lack cut.
Forecast forecast(const job::Job& job, const plan::Plan& plan, const prove::Proof& proof,
                  const Asked& asked = {});

}  // namespace seatwright::forecast
