// A slipped zero: r gains a step h_k(i) = [i ≥ k] in reading order. Fitted together with the harmonics, its
// least sum of squares falls by (h·e)² / (h·h − ‖P h‖²), e what the harmonics leave and P the projection on
// them; both are sums over the tail of the trace, so one pass over k from the end gives every place.
#include <Eigen/Cholesky>
#include <algorithm>
#include <boost/math/distributions/fisher_f.hpp>
#include <cmath>

#include "seatwright/prove/harmonics.hpp"
#include "seatwright/prove/trig_basis.hpp"

namespace seatwright::prove {

namespace {

constexpr std::size_t least_points = 16;  // fewer leave too little to tell a step from a shape
constexpr double false_alarm = 1e-6;
// A step with fewer readings than this, or than a twentieth of them, on one side is a bad reading or a nick.
constexpr std::size_t least_tail = 3;
constexpr std::size_t tail_parts = 20;
constexpr double least_explained = 0.5;
// Below this share of the trace's sum of squares what is left is rounding.
constexpr double rounding_of_squares = 1e-18;
// Below this share of a step's own square the harmonics can imitate it.
constexpr double imitable = 1e-3;

}  // namespace

std::optional<Slip> find_slip(const Turn& turn) {
    const auto n = turn.size();
    if (n < least_points) return std::nullopt;
    const int highest = std::min<int>(highest_order, static_cast<int>(n / 8));
    const TrigBasis basis(turn, highest);
    std::vector<int> orders;
    orders.reserve(static_cast<std::size_t>(highest));
    for (int order = 1; order <= highest; ++order) orders.push_back(order);
    const auto columns = basis.columns(orders);
    const Eigen::LDLT<Eigen::MatrixXd> factor(basis.gram(columns));
    if (!factor.isPositive() || factor.rcond() < 1e-8) return std::nullopt;  // too gappy to tell
    const auto left = basis.left(factor.solve(basis.moment(columns)), columns, turn.r);
    double squares = 0, total = 0;
    for (std::size_t i = 0; i < n; ++i) squares += left[i] * left[i], total += turn.r[i] * turn.r[i];
    if (squares <= rounding_of_squares * total) return std::nullopt;

    double tail = 0, best_drop = 0;
    Slip best;
    Eigen::VectorXd sums = Eigen::VectorXd::Zero(static_cast<Eigen::Index>(columns.size()));
    for (std::size_t k = n - 1; k > 0; --k) {
        tail += left[k];
        sums += basis.at(k);
        const double size = static_cast<double>(n - k);
        const double own = size - sums.dot(factor.solve(sums)) / static_cast<double>(n);
        if (own < imitable * size) continue;
        if (std::min(k, n - k) < std::max(least_tail, n / tail_parts)) continue;
        const double drop = tail * tail / own;
        if (drop > best_drop) best_drop = drop, best = {k, turn.angle[k], tail / own};
    }
    const double free = static_cast<double>(n) - static_cast<double>(columns.size()) - 1;
    const double rest = std::max(squares - best_drop, rounding_of_squares * total);
    if (best_drop < least_explained * squares) return std::nullopt;
    const boost::math::fisher_f spread(1, free);
    const double p = boost::math::cdf(boost::math::complement(spread, best_drop / (rest / free)));
    if (p * static_cast<double>(n) > false_alarm) return std::nullopt;
    return best;
}

}  // namespace seatwright::prove
