// A smooth function of one number by Chebyshev's polynomials.
#pragma once

#include <cmath>
#include <numbers>
#include <vector>

namespace seatwright::forecast {

class Chebyshev {
  public:
    // Rising places from `low` to `high` at which it must be known.
    static std::vector<double> places(double low, double high, std::size_t n) {
        std::vector<double> out;
        out.reserve(n);
        for (std::size_t i = 0; i < n; ++i)
            out.push_back((low + high) / 2 - (high - low) / 2 * std::cos(angle(i, n)));
        return out;
    }
    Chebyshev() = default;
    Chebyshev(double low, double high, const std::vector<double>& values)
        : middle_((low + high) / 2), half_((high - low) / 2), of_(values.size(), 0) {
        const std::size_t n = values.size();
        for (std::size_t i = 0; i < n; ++i) {
            // cos(k·angle) by its recurrence.
            const double x = -std::cos(angle(i, n));
            double before = 1, here = x;
            for (std::size_t k = 0; k < n; ++k) {
                of_[k] += values[i] * before * (k == 0 ? 1.0 : 2.0) / static_cast<double>(n);
                const double next = 2 * x * here - before;
                before = here;
                here = next;
            }
        }
    }
    double operator()(double x) const {
        const double s = (x - middle_) / half_;
        double one = 0, two = 0;
        for (std::size_t k = of_.size() - 1; k > 0; --k) {
            const double next = 2 * s * one - two + of_[k];
            two = one;
            one = next;
        }
        return s * one - two + of_[0];
    }

  private:
    static double angle(std::size_t i, std::size_t n) {
        return std::numbers::pi * (static_cast<double>(i) + 0.5) / static_cast<double>(n);
    }
    double middle_ = 0, half_ = 1;
    std::vector<double> of_;
};

}  // namespace seatwright::forecast
