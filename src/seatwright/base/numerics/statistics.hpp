// Means, least squares and analysis of variance, to the digits a double allows.
#pragma once

#include <Eigen/Core>
#include <optional>
#include <span>
#include <vector>

#include "seatwright/base/fault.hpp"

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

struct LinearFit {
    Eigen::VectorXd coefficients;
    Eigen::MatrixXd covariance;  // of the coefficients; zero when nothing is to spare
    double residual_sd = 0;      // √(SSR/(n − p)); 0 when n = p
    double ssr = 0;
    double r2 = 0;  // about the mean of y
    std::size_t n = 0;
    double dof() const { return static_cast<double>(n) - static_cast<double>(coefficients.size()); }
};

// Ordinary least squares y ≈ X·b by Householder QR on columns scaled to unit length, with one step of
// iterative refinement. Error: rank below the number of columns.
Solved<LinearFit> least_squares(const Eigen::MatrixXd& x, const Eigen::VectorXd& y);

// y ≈ b0 + b1·(x − origin), and what it foretells.
struct Line {
    LinearFit fit;
    double origin = 0;
    double slope() const { return fit.coefficients[1]; }
    double at(double x) const { return fit.coefficients[0] + slope() * (x - origin); }
    double slope_sd() const;
    double sd_of_mean_at(double x) const;  // of the line itself
    double sd_of_new_at(double x) const;   // of one further value
};
Solved<Line> fit_line(std::span<const double> x, std::span<const double> y, double origin);

// One-way analysis of variance, random effects.
struct OneWay {
    double ss_between = 0, ss_within = 0;
    double dof_between = 0, dof_within = 0;
    double ms_between = 0, ms_within = 0;
    double f = 0;  // 0 when nothing varies within
    double r2 = 0;
    double sd_within = 0;
    double sd_between = 0;  // component, 0 when estimated negative; (MSB − MSW)/n0 for unequal groups
};
// Needs at least two groups with values and one value to spare; none otherwise.
std::optional<OneWay> one_way(const std::vector<std::vector<double>>& groups);

}  // namespace seatwright::numerics
