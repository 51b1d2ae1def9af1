#include "seatwright/prove/trig_basis.hpp"

#include <cmath>
#include <cstdlib>

namespace seatwright::prove {

namespace {

using Complex = std::complex<double>;
using Eigen::Index;

// e^{imθ} for m = 0.. by repeated multiplication; 30 steps cost 30 roundings at most.
Complex times(Complex a, Complex b) {
    return {a.real() * b.real() - a.imag() * b.imag(), a.real() * b.imag() + a.imag() * b.real()};
}

}  // namespace

TrigBasis::TrigBasis(const Turn& turn, int highest)
    : turn_(turn), highest_(highest), sums_(static_cast<std::size_t>(2 * highest + 1), Complex(0)) {
    for (std::size_t i = 0; i < turn.size(); ++i) {
        const Complex z(turn.cos[i], turn.sin[i]);
        Complex power(1, 0);
        for (auto& sum : sums_) {
            sum += power;
            power = times(power, z);
        }
    }
    for (auto& sum : sums_) sum /= static_cast<double>(turn.size());
    moments_ = all_moments(turn.r);
}

std::vector<int> TrigBasis::columns(const std::vector<int>& orders) const {
    std::vector<int> out{0};
    for (const int order : orders) {
        out.push_back(2 * order - 1);
        out.push_back(2 * order);
    }
    return out;
}

double TrigBasis::product(int i, int j) const {
    const int m = (i + 1) / 2, n = (j + 1) / 2;
    const bool sine_i = i > 0 && i % 2 == 0, sine_j = j > 0 && j % 2 == 0;
    const double scale = (i > 0 ? std::sqrt(2.0) : 1.0) * (j > 0 ? std::sqrt(2.0) : 1.0) / 2;
    const auto sum = sums_[static_cast<std::size_t>(m + n)];
    const auto difference = sums_[static_cast<std::size_t>(std::abs(m - n))];
    const double odd = n >= m ? difference.imag() : -difference.imag();  // mean of sin((n − m)θ)
    if (!sine_i && !sine_j) return scale * (difference.real() + sum.real());
    if (sine_i && sine_j) return scale * (difference.real() - sum.real());
    return scale * (sum.imag() + (sine_j ? odd : -odd));
}

Eigen::MatrixXd TrigBasis::gram(const std::vector<int>& columns) const {
    const auto p = static_cast<Index>(columns.size());
    Eigen::MatrixXd g(p, p);
    for (Index i = 0; i < p; ++i)
        for (Index j = 0; j <= i; ++j)
            g(i, j) = g(j, i) =
                product(columns[static_cast<std::size_t>(i)], columns[static_cast<std::size_t>(j)]);
    return g;
}

Eigen::VectorXd TrigBasis::all_moments(const std::vector<double>& values) const {
    std::vector<Complex> sums(static_cast<std::size_t>(highest_ + 1), Complex(0));
    for (std::size_t i = 0; i < values.size(); ++i) {
        const Complex z(turn_.cos[i], turn_.sin[i]);
        Complex power(values[i], 0);
        for (auto& sum : sums) {
            sum += power;
            power = times(power, z);
        }
    }
    const double n = static_cast<double>(values.size());
    Eigen::VectorXd out(2 * highest_ + 1);
    out[0] = sums[0].real() / n;
    for (int order = 1; order <= highest_; ++order) {
        const auto sum = sums[static_cast<std::size_t>(order)];
        out[2 * order - 1] = std::sqrt(2) * sum.real() / n;
        out[2 * order] = std::sqrt(2) * sum.imag() / n;
    }
    return out;
}

Eigen::VectorXd TrigBasis::moment(const std::vector<int>& columns) const {
    Eigen::VectorXd out(static_cast<Index>(columns.size()));
    for (Index k = 0; k < out.size(); ++k) out[k] = moments_[columns[static_cast<std::size_t>(k)]];
    return out;
}

Eigen::VectorXd TrigBasis::moment_of(const std::vector<int>& columns,
                                     const std::vector<double>& values) const {
    const Eigen::VectorXd all = all_moments(values);
    Eigen::VectorXd out(static_cast<Index>(columns.size()));
    for (Index k = 0; k < out.size(); ++k) out[k] = all[columns[static_cast<std::size_t>(k)]];
    return out;
}

Eigen::VectorXd TrigBasis::at(std::size_t i) const {
    Eigen::VectorXd out(2 * highest_ + 1);
    const Complex z(turn_.cos[i], turn_.sin[i]);
    Complex power = z;
    out[0] = 1;
    for (int order = 1; order <= highest_; ++order) {
        out[2 * order - 1] = std::sqrt(2) * power.real();
        out[2 * order] = std::sqrt(2) * power.imag();
        power = times(power, z);
    }
    return out;
}

std::vector<double> TrigBasis::left(const Eigen::VectorXd& x, const std::vector<int>& columns,
                                    const std::vector<double>& values) const {
    // Coefficients of e^{imθ}: the fit is the real part of Σ c_m e^{imθ}.
    std::vector<Complex> c(static_cast<std::size_t>(highest_ + 1), Complex(0));
    for (std::size_t k = 0; k < columns.size(); ++k) {
        const double value = x[static_cast<Index>(k)];
        const int column = columns[k];
        if (column == 0) {
            c[0] += value;
        } else {
            const auto order = static_cast<std::size_t>((column + 1) / 2);
            c[order] += std::sqrt(2) * value * (column % 2 == 1 ? Complex(1, 0) : Complex(0, -1));
        }
    }
    std::vector<double> out(values.size());
    for (std::size_t i = 0; i < values.size(); ++i) {
        const Complex z(turn_.cos[i], turn_.sin[i]);
        Complex fitted(0);
        for (auto at = c.rbegin(); at != c.rend(); ++at) fitted = times(fitted, z) + *at;
        out[i] = values[i] - fitted.real();
    }
    return out;
}

}  // namespace seatwright::prove
