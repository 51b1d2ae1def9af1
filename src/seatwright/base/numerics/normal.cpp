#include "seatwright/base/numerics/normal.hpp"

#include <algorithm>
#include <limits>

namespace seatwright::numerics {
namespace {

// Acklam's rational approximation, 1.2e-9 relative, of the lower half.
double roughly(double p) {
    constexpr double border = 0.02425;
    if (p < border) {
        const double q = std::sqrt(-2 * std::log(p));
        return (((((-7.784894002430293e-03 * q - 3.223964580411365e-01) * q - 2.400758277161838e+00) * q -
                  2.549732539343734e+00) *
                     q +
                 4.374664141464968e+00) *
                    q +
                2.938163982698783e+00) /
               ((((7.784695709041462e-03 * q + 3.224671290700398e-01) * q + 2.445134137142996e+00) * q +
                 3.754408661907416e+00) *
                    q +
                1);
    }
    const double q = p - 0.5, r = q * q;
    return (((((-3.969683028665376e+01 * r + 2.209460984245205e+02) * r - 2.759285104469687e+02) * r +
              1.383577518672690e+02) *
                 r -
             3.066479806614716e+01) *
                r +
            2.506628277459239e+00) *
           q /
           (((((-5.447609879822406e+01 * r + 1.615858368580409e+02) * r - 1.556989798598866e+02) * r +
              6.680131188771972e+01) *
                 r -
             1.328068155288572e+01) *
                r +
            1);
}

}  // namespace

double normal_quantile(double p) {
    if (!(p > 0)) return -std::numeric_limits<double>::infinity();
    if (!(p < 1)) return std::numeric_limits<double>::infinity();
    // The upper half from the lower, and one step of Halley's method, which leaves rounding.
    const double lower = std::min(p, 1 - p), x = roughly(lower);
    const double off = (normal_below(x) - lower) / normal_density(x);
    const double z = x - off / (1 + x * off / 2);
    return p <= 0.5 ? z : -z;
}

}  // namespace seatwright::numerics
