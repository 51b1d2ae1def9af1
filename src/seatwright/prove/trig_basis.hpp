// The functions 1, √2·cos nθ, √2·sin nθ on the points of a trace: scaled so that even spacing makes their
// normal matrix (divided by N) the unit matrix. The matrix comes from the 2K + 1 trigonometric moments Σ
// e^{imθ}, so it costs N·K and not N·K².
#pragma once

#include <Eigen/Core>
#include <complex>
#include <vector>

#include "seatwright/prove/trace.hpp"

namespace seatwright::prove {

class TrigBasis {
  public:
    TrigBasis(const Turn& turn, int highest);

    std::size_t points() const { return turn_.size(); }
    int highest() const { return highest_; }

    // Columns of the constant and of the cosine and sine of each order: column 0 is the constant, 2n − 1 the
    // cosine and 2n the sine of order n.
    std::vector<int> columns(const std::vector<int>& orders) const;
    // (1/N)·Σ f_i f_j over those columns.
    Eigen::MatrixXd gram(const std::vector<int>& columns) const;
    // (1/N)·Σ f_i·r of the trace itself, and of other values on the same points.
    Eigen::VectorXd moment(const std::vector<int>& columns) const;
    Eigen::VectorXd moment_of(const std::vector<int>& columns, const std::vector<double>& values) const;
    // values − Σ x_k f_k, at each point.
    std::vector<double> left(const Eigen::VectorXd& x, const std::vector<int>& columns,
                             const std::vector<double>& values) const;
    // Every column's value at point i.
    Eigen::VectorXd at(std::size_t i) const;

  private:
    Eigen::VectorXd all_moments(const std::vector<double>& values) const;
    double product(int i, int j) const;

    const Turn& turn_;
    int highest_;
    std::vector<std::complex<double>> sums_;  // (1/N)·Σ e^{imθ}, m = 0..2K
    Eigen::VectorXd moments_;                 // of the trace
};

}  // namespace seatwright::prove
