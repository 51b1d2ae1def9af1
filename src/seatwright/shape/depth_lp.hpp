// The depth plan as a linear program, by Clp: the optimum before whole steps, the least relaxation when there
// is none, and which limits quarrel.
#pragma once

#include <optional>
#include <vector>

#include "seatwright/base/fault.hpp"
#include "seatwright/shape/depth_problem.hpp"

namespace seatwright::shape {

struct LpPlan {
    std::vector<double> depth;
    double total = 0;
};

// The optimum, or none when the limits cannot all be kept. Feasible to 1e-9 mm (Clp's primal tolerance as set
// here). Error: Clp stopped for another reason.
Solved<std::optional<LpPlan>> solve_depths(const DepthProblem& problem);

// Least chamber spread that leaves a plan, every other limit kept. None when the others alone cannot be kept.
Solved<std::optional<double>> least_chamber_spread(const DepthProblem& problem);

// Which limits of an infeasible problem quarrel, by the deletion filter (Chinneck and Dravnieks, ORSA Journal
// on Computing 3, 1991): each limit in turn is let go, for good if the rest is still infeasible. What stays
// is irreducible: infeasible together, feasible without any one of them. Empty when the problem is feasible.
struct Quarrel {
    std::vector<std::size_t> cleanup, most_depth, stem;  // indices into problem.seats
    std::vector<std::size_t> chamber;                    // indices into problem.chamber
    bool empty() const { return cleanup.empty() && most_depth.empty() && stem.empty() && chamber.empty(); }
};
Solved<Quarrel> quarrel_of(const DepthProblem& problem);

}  // namespace seatwright::shape
