// What the record says of how this shop's heads scatter: estimates with their degrees of freedom.
#pragma once

#include <algorithm>
#include <cmath>
#include <optional>

#include "seatwright/plan/plan.hpp"

namespace seatwright::forecast {

struct Estimate {
    double value = 0;
    double dof = 0;             // of a standard deviation
    double standard_error = 0;  // of a wear
    double less = 0;  // variance of other things taken off: value² + less is what was seen with `dof`
    int heads = 0;    // it is of, where that counts
};

// The standard deviation left of what was seen once other things' variance is taken off.
inline Estimate left_of(double seen, double less, double dof) {
    return {std::sqrt(std::max(0.0, seen - less)), dof, 0, std::min(less, seen), 0};
}

struct FromRecord {
    std::optional<Estimate> casting_sd;
    std::optional<Estimate> level_sd, guide_angle_sd;
    std::optional<Estimate> depth_sd, depth_wear_head;  // wear: per head, both kinds together
    std::optional<Estimate> width_sd, width_wear_head;
    std::optional<Estimate> runout_square;  // mean square of runouts, the gauge's part taken off, mm²
    int touched_heads = 0;
    int touches = 0;  // on the last of them, in the setup with most
};

// Stem heights speak only where all heads are cut to one height: else they differ by plan.
FromRecord read_record(const job::Job& job, const plan::Plan& plan, const prove::Proof& proof);

}  // namespace seatwright::forecast
