// Small linear programs with many constraints, solved by exchange (the dual simplex with an explicit basis).
//
//     minimise c·x   subject to   g_i·x ≥ h_i,  i = 1…N,   x in R^D, D = 3 or 4, N up to 10^5
//
// A basis is D constraints taken as equalities whose multipliers w (Σ w_k g_k = c) are all ≥ 0: the optimum
// of the problem with those constraints alone. While some other constraint is violated the worst one enters,
// and the one whose multiplier reaches zero first leaves, so the value never falls and the optimum is reached
// in finitely many steps unless it is degenerate; a cap guards that case. Each step costs one pass over the
// constraints. Source: Cheney, Introduction to Approximation Theory, ch. 2 (exchange as a dual simplex).
#pragma once

#include <Eigen/LU>
#include <array>
#include <cstddef>
#include <limits>

#include "seatwright/base/fault.hpp"

namespace seatwright::numerics {

template <int D>
struct ExchangeResult {
    Eigen::Matrix<double, D, 1> x;
    std::array<std::size_t, D> basis;
    Eigen::Matrix<double, D, 1> weights;
    int steps = 0;
};

// A multiplier this far below zero is still rounding: multipliers are of order one.
inline constexpr double multiplier_rounding = 1e-10;

// `Problem` has: gradient(i) → Matrix<double, D, 1>; level(i) → double; cost() → Matrix<double, D, 1>;
// worst(x) → {index, violation} of the constraint most violated at x. `slack`: a violation that counts as
// none, in the units of h. `basis` must have multipliers ≥ 0.
template <int D, class Problem>
Solved<ExchangeResult<D>> exchange(const Problem& problem, std::array<std::size_t, D> basis, double slack,
                                   int cap) {
    using Vector = Eigen::Matrix<double, D, 1>;
    using Matrix = Eigen::Matrix<double, D, D>;
    double violation = std::numeric_limits<double>::infinity();
    for (int step = 0; step < cap; ++step) {
        Matrix g;
        Vector h;
        for (int k = 0; k < D; ++k) {
            g.row(k) = problem.gradient(basis[static_cast<std::size_t>(k)]).transpose();
            h[k] = problem.level(basis[static_cast<std::size_t>(k)]);
        }
        const Eigen::PartialPivLU<Matrix> lu(g);
        const Vector x = lu.solve(h);
        const Vector weights = lu.transpose().solve(problem.cost());
        if (!x.allFinite() || !weights.allFinite() || weights.minCoeff() < -multiplier_rounding)
            return tl::unexpected(SolverError{"exchange", step, violation, "the basis became singular"});
        const auto worst = problem.worst(x);
        violation = worst.violation;
        if (violation <= slack) return ExchangeResult<D>{x, basis, weights, step};
        const Vector rise = lu.transpose().solve(problem.gradient(worst.index));
        int leaving = -1;
        double least = std::numeric_limits<double>::infinity();
        for (int k = 0; k < D; ++k) {
            if (rise[k] <= multiplier_rounding) continue;
            const double ratio = std::max(weights[k], 0.0) / rise[k];
            // On a tie the larger pivot leaves: the next basis is then the better conditioned one.
            if (ratio < least || (ratio == least && rise[k] > rise[leaving])) {
                least = ratio;
                leaving = k;
            }
        }
        if (leaving < 0)
            return tl::unexpected(
                SolverError{"exchange", step, violation, "the constraints contradict each other"});
        basis[static_cast<std::size_t>(leaving)] = worst.index;
    }
    return tl::unexpected(SolverError{"exchange", cap, violation, "no optimum within the cap"});
}

}  // namespace seatwright::numerics
