#include "seatwright/base/numerics/statistics.hpp"

#include <Eigen/QR>
#include <algorithm>
#include <cmath>

namespace seatwright::numerics {

namespace {

using Eigen::Index;

// Columns whose part square to the others is below this share of their length depend on them. Ten times
// tighter than the worst well-posed published set needs (Filip is refused, Longley and Wampler are fitted).
constexpr double dependent = 1e-11;

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

Solved<LinearFit> least_squares(const Eigen::MatrixXd& x, const Eigen::VectorXd& y) {
    const Index p = x.cols();
    require(x.rows() == y.size() && p > 0 && x.rows() >= p, "least squares has as many rows as values");
    Eigen::VectorXd scale = x.colwise().norm().transpose();
    for (Index k = 0; k < p; ++k)
        if (scale[k] == 0) scale[k] = 1;
    const Eigen::MatrixXd scaled = x * scale.cwiseInverse().asDiagonal();
    Eigen::ColPivHouseholderQR<Eigen::MatrixXd> qr(scaled);
    qr.setThreshold(dependent);
    if (qr.rank() < p)
        return tl::unexpected(SolverError{"least squares", 0, 0, "the columns depend on each other"});
    Eigen::VectorXd b = qr.solve(y);
    b += qr.solve(y - scaled * b);

    LinearFit fit;
    fit.n = static_cast<std::size_t>(x.rows());
    fit.ssr = (y - scaled * b).squaredNorm();
    fit.coefficients = b.cwiseQuotient(scale);
    const double about_mean = (y.array() - mean_of({y.data(), fit.n})).square().sum();
    fit.r2 = about_mean > 0 ? 1 - fit.ssr / about_mean : 1;
    fit.covariance = Eigen::MatrixXd::Zero(p, p);
    if (fit.dof() > 0) {
        fit.residual_sd = std::sqrt(fit.ssr / fit.dof());
        const Eigen::MatrixXd r = qr.matrixR().topLeftCorner(p, p).triangularView<Eigen::Upper>();
        const Eigen::MatrixXd inverse =
            r.triangularView<Eigen::Upper>().solve(Eigen::MatrixXd::Identity(p, p));
        const Eigen::MatrixXd rows = scale.cwiseInverse().asDiagonal() * (qr.colsPermutation() * inverse);
        fit.covariance = rows * rows.transpose() * (fit.residual_sd * fit.residual_sd);
    }
    return fit;
}

double Line::slope_sd() const {
    return std::sqrt(std::max(fit.covariance(1, 1), 0.0));
}

double Line::sd_of_mean_at(double x) const {
    const Eigen::Vector2d g(1, x - origin);
    return std::sqrt(std::max(g.dot(fit.covariance * g), 0.0));
}

double Line::sd_of_new_at(double x) const {
    return std::hypot(sd_of_mean_at(x), fit.residual_sd);
}

Solved<Line> fit_line(std::span<const double> x, std::span<const double> y, double origin) {
    require(x.size() == y.size() && x.size() >= 2, "a line needs two points");
    Eigen::MatrixXd a(static_cast<Index>(x.size()), 2);
    Eigen::VectorXd b(static_cast<Index>(y.size()));
    for (std::size_t i = 0; i < x.size(); ++i) {
        a(static_cast<Index>(i), 0) = 1;
        a(static_cast<Index>(i), 1) = x[i] - origin;
        b[static_cast<Index>(i)] = y[i];
    }
    auto fit = least_squares(a, b);
    if (!fit) return tl::unexpected(fit.error());
    return Line{std::move(*fit), origin};
}

std::optional<OneWay> one_way(const std::vector<std::vector<double>>& groups) {
    std::vector<double> all;
    double filled = 0, squares_of_sizes = 0;
    for (const auto& g : groups) {
        if (g.empty()) continue;
        filled += 1;
        squares_of_sizes += static_cast<double>(g.size() * g.size());
        all.insert(all.end(), g.begin(), g.end());
    }
    const double n = static_cast<double>(all.size());
    if (filled < 2 || n <= filled) return std::nullopt;
    const double mean = mean_of(all);
    OneWay out;
    for (const auto& g : groups) {
        if (g.empty()) continue;
        const Summary s = summary(g);
        out.ss_between += static_cast<double>(g.size()) * (s.mean - mean) * (s.mean - mean);
        out.ss_within += s.sd * s.sd * static_cast<double>(g.size() - 1);
    }
    out.dof_between = filled - 1;
    out.dof_within = n - filled;
    out.ms_between = out.ss_between / out.dof_between;
    out.ms_within = out.ss_within / out.dof_within;
    if (out.ms_within > 0) out.f = out.ms_between / out.ms_within;
    const double total = out.ss_between + out.ss_within;
    if (total > 0) out.r2 = out.ss_between / total;
    out.sd_within = std::sqrt(out.ms_within);
    const double usual_size = (n - squares_of_sizes / n) / (filled - 1);
    out.sd_between = std::sqrt(std::max(out.ms_between - out.ms_within, 0.0) / usual_size);
    return out;
}

}  // namespace seatwright::numerics
