#include "seatwright/base/numerics/statistics.hpp"

#include <cmath>

#include "seatwright/base/fault.hpp"

namespace seatwright::numerics {

namespace {

// Mean about the first value, corrected by the mean of the deviations from it.
double mean_of(std::span<const double> values) {
    const double n = static_cast<double>(values.size());
    double sum = 0;
    for (const double v : values) sum += v - values[0];
    const double first = values[0] + sum / n;
    double rest = 0;
    for (const double v : values) rest += v - first;
    return first + rest / n;
}

}  // namespace

Summary summary(std::span<const double> values) {
    require(!values.empty(), "a summary needs values");
    Summary out;
    out.n = values.size();
    out.mean = mean_of(values);
    const double n = static_cast<double>(out.n);
    double squares = 0, rest = 0;
    for (const double v : values) squares += (v - out.mean) * (v - out.mean), rest += v - out.mean;
    squares -= rest * rest / n;
    if (out.n < 2 || squares <= 0) return out;
    out.sd = std::sqrt(squares / (n - 1));
    double neighbours = 0;
    for (std::size_t i = 1; i < out.n; ++i) neighbours += (values[i] - out.mean) * (values[i - 1] - out.mean);
    out.lag1 = neighbours / squares;
    return out;
}

}  // namespace seatwright::numerics
