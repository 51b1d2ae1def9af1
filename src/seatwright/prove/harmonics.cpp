#include "seatwright/prove/harmonics.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>

#include "seatwright/base/units.hpp"
#include "seatwright/prove/trig_basis.hpp"

namespace seatwright::prove {

namespace {

// Least eigenvalue of the scaled normal matrix (1 for even spacing) that is still fitted whole: the noise of
// an amplitude then swells at most by 1/√0.01 = 10.
constexpr double least_eigenvalue = 0.01;
// In the search, where an order must earn its place: swelling up to 30, which its uncertainty then shows.
constexpr double least_eigenvalue_searched = 0.001;
// Share of the sum of squares that is rounding, not reading.
constexpr double square_rounding = 1e-24;
// Every round lowers the criterion, so the search ends by itself; traces seen need at most a dozen rounds.
constexpr int most_rounds = 60;

using Matrix = Eigen::MatrixXd;
using Vector = Eigen::VectorXd;

struct Chosen {
    std::vector<int> orders;
    bool complete = true;
};

// Rows that hardly lean on each other bound it from below (Gershgorin) and save the decomposition.
bool swells_little(const Matrix& m) {
    const Vector beside = m.cwiseAbs().rowwise().sum() - m.diagonal().cwiseAbs();
    return (m.diagonal() - beside).minCoeff() >= least_eigenvalue;
}

double least_eigenvalue_of(const Matrix& m) {
    return Eigen::SelfAdjointEigenSolver<Matrix>(m, Eigen::EigenvaluesOnly).eigenvalues().minCoeff();
}

// Mean square left when `orders` are fitted, from the normal equations.
double mean_square_left(const TrigBasis& basis, const std::vector<int>& orders, double total) {
    const auto columns = basis.columns(orders);
    const Matrix g = basis.gram(columns);
    const Vector m = basis.moment(columns);
    return std::max(total - m.dot(g.ldlt().solve(m)), total * square_rounding);
}

// One order more, one less, or one in place of another; order 1 stays.
std::vector<std::vector<int>> neighbours(const std::vector<int>& orders, int highest) {
    std::vector<std::vector<int>> out;
    for (std::size_t k = 1; k < orders.size(); ++k) {
        out.push_back(orders);
        out.back().erase(out.back().begin() + static_cast<std::ptrdiff_t>(k));
    }
    const auto fewer = out;
    for (int order = 2; order <= highest; ++order) {
        if (std::find(orders.begin(), orders.end(), order) != orders.end()) continue;
        out.push_back(orders);
        out.back().push_back(order);
        for (const auto& less : fewer) {
            out.push_back(less);
            out.back().push_back(order);
        }
    }
    return out;
}

std::vector<int> pick_orders(const TrigBasis& basis, double total) {
    const double n = static_cast<double>(basis.points());
    const auto cost = [&](const std::vector<int>& orders) {
        return n * std::log(mean_square_left(basis, orders, total)) +
               (1 + 2 * static_cast<double>(orders.size())) * std::log(n);
    };
    std::vector<int> orders{1};
    double best = cost(orders);
    for (int round = 0; round < most_rounds; ++round) {
        std::vector<int> next;
        for (const auto& tried : neighbours(orders, basis.highest())) {
            const double price = cost(tried);
            if (price >= best) continue;
            if (least_eigenvalue_of(basis.gram(basis.columns(tried))) < least_eigenvalue_searched) continue;
            best = price;
            next = tried;
        }
        if (next.empty()) break;
        orders = next;
    }
    std::sort(orders.begin(), orders.end());
    return orders;
}

Chosen choose(const TrigBasis& basis, const Turn& turn) {
    std::vector<int> all;
    all.reserve(static_cast<std::size_t>(basis.highest()));
    for (int order = 1; order <= basis.highest(); ++order) all.push_back(order);
    double total = 0;
    for (const double r : turn.r) total += r * r;
    total /= static_cast<double>(turn.size());
    const Matrix whole = basis.gram(basis.columns(all));
    if (total == 0 || swells_little(whole) || least_eigenvalue_of(whole) >= least_eigenvalue)
        return {all, true};
    return {pick_orders(basis, total), false};
}

Harmonic harmonic_of(int order, double a, double b, const Eigen::Matrix2d& covariance) {
    Harmonic h;
    h.order = order;
    h.amplitude = std::hypot(a, b);
    h.phase = h.amplitude > 0 ? std::atan2(b, a) : 0;
    if (h.phase < 0) h.phase += 2 * pi;
    // Along the vector where it stands clear of its scatter; else the mean of both directions.
    const double scatter = std::sqrt(std::max(covariance.trace() / 2, 0.0));
    const Eigen::Vector2d v(a, b);
    h.amplitude_u =
        h.amplitude > scatter ? std::sqrt(std::max(v.dot(covariance * v), 0.0)) / h.amplitude : scatter;
    return h;
}

}  // namespace

HarmonicFit fit_harmonics(const Turn& turn) {
    const int highest = std::min<int>(highest_order, static_cast<int>((turn.size() - 1) / 2));
    const TrigBasis basis(turn, highest);
    const Chosen chosen = choose(basis, turn);
    const auto columns = basis.columns(chosen.orders);
    const Eigen::LDLT<Matrix> factor(basis.gram(columns));
    const auto p = columns.size();

    Vector x = factor.solve(basis.moment(columns));
    HarmonicFit fit;
    fit.complete = chosen.complete;
    fit.left = basis.left(x, columns, turn.r);
    // The second pass removes what the first left by squaring the condition number.
    x += factor.solve(basis.moment_of(columns, fit.left));
    fit.left = basis.left(x, columns, turn.r);

    double squares = 0;
    for (const double e : fit.left) squares += e * e;
    const auto n = turn.size();
    Matrix covariance = Matrix::Zero(static_cast<Eigen::Index>(p), static_cast<Eigen::Index>(p));
    if (n > p) {
        fit.noise = std::sqrt(squares / static_cast<double>(n - p));
        covariance =
            factor.solve(Matrix::Identity(static_cast<Eigen::Index>(p), static_cast<Eigen::Index>(p))) *
            (*fit.noise * *fit.noise / static_cast<double>(n));
    }
    fit.constant = x[0];
    for (std::size_t k = 0; k < chosen.orders.size(); ++k) {
        const auto at = static_cast<Eigen::Index>(1 + 2 * k);
        // Columns are √2·cos, √2·sin: back to plain amplitudes.
        Harmonic h = harmonic_of(chosen.orders[k], std::sqrt(2) * x[at], std::sqrt(2) * x[at + 1],
                                 2 * covariance.block<2, 2>(at, at));
        if (!fit.noise) h.amplitude_u.reset();
        fit.harmonics.push_back(h);
    }
    return fit;
}

}  // namespace seatwright::prove
