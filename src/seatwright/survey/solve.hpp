// The weighted least squares of a survey, with covariance.
//
// Gauss-Newton on all unknowns at once; what the readings leave open is held where it started by priors so
// wide (100 mm, 10 deg) that they weigh nothing beside a reading, and shows as an uncertainty beyond what a
// reading could leave. So one covariance tells both: how sure a figure is, and that it is open.
#pragma once

#include <Eigen/Core>
#include <vector>

#include "seatwright/base/fault.hpp"
#include "seatwright/survey/model.hpp"

namespace seatwright::survey {

struct Solution {
    Eigen::VectorXd unknowns;
    Eigen::MatrixXd covariance;
    std::vector<double> residual;    // of each row, (value − model)/sd
    std::vector<double> redundancy;  // share of a row's error that shows in its residual, 0..1; of rows aside
                                     // by the others' prediction
    double chi2 = 0;                 // of the rows read
    double dof = 0;
};

inline constexpr double open_length = 100, open_angle = 10 * rad_per_deg;

// Rows set aside take no part. Error: it does not settle; the readings contradict each other too much.
Solved<Solution> solve(const Layout& layout, const std::vector<Row>& rows, const Eigen::VectorXd& start);

// One step of it about `at`, which stays the solution's unknowns: what a far reading does to the others is
// seen without following it.
Solution linearized(const Layout& layout, const std::vector<Row>& rows, const Eigen::VectorXd& at);

// Variance of a row's function.
double variance_of(const Gradient& gradient, const Eigen::MatrixXd& covariance);

}  // namespace seatwright::survey
