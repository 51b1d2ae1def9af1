// The chance that the stem heights of a head are good: each within its limits and each kind's spread within
// the limit, over seats whose heights are independent and normal once the errors they share are given.
//
// For one kind with means μ_i, standard deviations σ_i and windows [l_i, h_i] it is an integral over the
// lowest:
//   P = ∫ Σ_i φ_i(x)·[l_i ≤ x ≤ h_i] · Π_{j≠i} [Φ_j(min(x + S, h_j)) − Φ_j(max(x, l_j))]⁺ dx.
// Accuracy: 5e-6.
#pragma once

#include <optional>
#include <span>

#include "seatwright/forecast/batch.hpp"

namespace seatwright::forecast {

struct Stem {
    double mean = 0, sd = 0;
    double low = 0, high = 0;  // ±infinity where there is no limit
};

// Of one kind. A spread of infinity: the limits alone.
double heights_good(std::span<const Stem> stems, double spread);

}  // namespace seatwright::forecast
