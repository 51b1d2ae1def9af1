#include "seatwright/forecast/quadrature.hpp"

#include "seatwright/base/numerics/normal.hpp"

namespace seatwright::forecast {

double scaled_bessel_i0(double z) {
    constexpr double border = 20;
    double term = 1, sum = 1;
    if (z < border) {
        const double q = z * z / 4;
        for (int k = 1; k < 80 && term > 1e-17 * sum; ++k) sum += term *= q / (static_cast<double>(k) * k);
        return std::exp(-z) * sum;
    }
    for (int k = 1; k <= 8; ++k) sum += term *= (2.0 * k - 1) * (2.0 * k - 1) / (k * 8 * z);
    return sum / std::sqrt(2 * std::numbers::pi * z);
}

NormalTable::NormalTable() {
    for (std::size_t i = 0; i < at_.size(); ++i) {
        const double z = static_cast<double>(i) / cells_a_unit - reach;
        at_[i] = {numerics::normal_below(z), numerics::normal_density(z) / cells_a_unit};
    }
}

const NormalTable& normal_table() {
    static const NormalTable table;
    return table;
}

}  // namespace seatwright::forecast
