// The gauges a batch will be judged with, as prove will take them: of each quantity the key, what the last
// reading of it states, the shelf. Lengths mm, u standard uncertainties.
#pragma once

#include <optional>
#include <string>

#include "seatwright/forecast/known.hpp"
#include "seatwright/prove/gauges.hpp"

namespace seatwright::forecast {

struct JudgedWith {
    std::optional<double> u;  // of one value, the gauge's step in it; none: not known
    From from = From::job;
    std::string name;     // of the shelf, where it is one of it
    int of_several = 0;   // gauges of the shelf that could be meant, of which this is the coarsest
    std::string overdue;  // last day of its calibration, where the job's last reading is later
};

// `key`: what [forecast] says of it. Without one the last reading that carries the quantity and states a
// gauge (what stays the same is stated once, as prove has it); else the shelf's gauges that read it, the
// coarsest of them, which is never too little.
JudgedWith judged_with(const job::Job& job, prove::Quantity quantity, std::optional<double> key);

// Where Known keeps a quantity's u, and the key that says it.
std::optional<double> Known::*figure_of(prove::Quantity quantity);
const char* key_of(prove::Quantity quantity);

// A gauge of the shelf as it would judge; none where it does not read the quantity or states nothing.
std::optional<double> shelf_u(const job::Gauge& gauge, prove::Quantity quantity);

}  // namespace seatwright::forecast
