// Bessel functions the forecast asks for many times over.
#pragma once

#include <cstddef>
#include <span>

namespace seatwright::forecast {

// J0(k·x) at the places x (all ≥ 0, rising; k > 0), times `weight`, added to `sum`; 1e-11 for k·x up to 1e5.
void add_j0(std::span<const double> places, double k, double weight, double* sum);

// e^-z·I_k(z), k = 0 … n−1 (n ≤ 16), z ≥ 0; 1e-10.
void scaled_bessel_i(double z, std::size_t n, double* out);

}  // namespace seatwright::forecast
