// Means, scatters and what neighbours have to do with each other, to the digits a double allows.
#pragma once

#include <cstddef>
#include <span>

namespace seatwright::numerics {

struct Summary {
    std::size_t n = 0;
    double mean = 0;
    double sd = 0;    // with n − 1; 0 for one value
    double lag1 = 0;  // autocorrelation of neighbours; 0 when sd is
};

// Two passes about the first value, the second with the correction for the rounding of the mean (Chan, Golub,
// LeVeque 1983): relative accuracy of sd about 1e-15·|mean|/sd. Needs at least one value.
Summary summary(std::span<const double> values);

}  // namespace seatwright::numerics
