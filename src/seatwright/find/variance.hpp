// One-way analysis of variance with its variance components.
//
// y_gi = mean + A_g + e_gi: mean squares between and within groups, and from them the components
// σ² = MSW and σ_A² = (MSB − MSW)/n₀, n₀ = (N − Σn²/N)/(k − 1) (Searle, Casella & McCulloch 1992, sec. 3.6;
// n₀ = n for equal groups). Sums are taken about the grand mean, so leading digits in common do no harm.
#pragma once

#include <optional>
#include <vector>

#include "seatwright/base/numerics/moments.hpp"

namespace seatwright::find {

struct OneWay {
    double between_squares = 0, within_squares = 0;
    double between_dof = 0, within_dof = 0;
    double f = 0;
    double within_sd = 0;   // σ
    double between_sd = 0;  // σ_A, 0 when the estimate is negative
};

using numerics::Moments;  // of one group

// None with fewer than two groups or no group of two.
std::optional<OneWay> one_way(const std::vector<Moments>& groups);
std::optional<OneWay> one_way(const std::vector<std::vector<double>>& groups);

}  // namespace seatwright::find
