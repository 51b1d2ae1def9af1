#include "seatwright/base/numerics/normal.hpp"

#include <boost/math/special_functions/erf.hpp>

namespace seatwright::numerics {

double normal_quantile(double p) {
    return -std::numbers::sqrt2 * boost::math::erfc_inv(2 * p);
}

}  // namespace seatwright::numerics
