// Bessel functions the forecast asks for many times over.
#pragma once

#include <array>
#include <cstddef>

namespace seatwright::forecast {

// J0 at x = first + i·step (all ≥ 0), i = 0 … n−1, times `weight` added to `sum`; 1e-11 for x
// up to 1e5.
void add_j0(double first, double step, std::size_t n, double weight, double* sum);

// e^-z·I_k(z), k = 0 … n−1 (n ≤ 16), z ≥ 0; 1e-10.
void scaled_bessel_i(double z, std::size_t n, double* out);

}  // namespace seatwright::forecast
