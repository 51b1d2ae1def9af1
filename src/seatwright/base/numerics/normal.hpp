// The standard normal distribution.
#pragma once

#include <cmath>
#include <numbers>

namespace seatwright::numerics {

inline double normal_density(double z) {
    return std::exp(-0.5 * z * z) / std::sqrt(2 * std::numbers::pi);
}

// Φ(z) and 1 − Φ(z), the tails kept.
inline double normal_below(double z) {
    return 0.5 * std::erfc(-z / std::numbers::sqrt2);
}
inline double normal_above(double z) {
    return 0.5 * std::erfc(z / std::numbers::sqrt2);
}

// Where Φ is p, 0 < p < 1.
double normal_quantile(double p);

}  // namespace seatwright::numerics
