// The depth plan in whole steps, exactly: docs/shape-depth.md.
#pragma once

#include <tl/expected.hpp>
#include <vector>

#include "seatwright/shape/depth_problem.hpp"

namespace seatwright::shape {

struct StepPlan {
    std::vector<double> depth;  // multiples of problem.step
    double total = 0;
    bool proven =
        true;       // false: the search ended at its cap; every limit is kept, but a lesser total may exist
    int nodes = 0;  // boxes looked at
};

enum class NoSteps {
    none_exists,  // no depths in whole steps keep every limit
    not_found     // the search ended at its cap without one
};

// The least total in whole steps with every limit kept (to 1e-6 of a step: the rounding noise of sums of
// decimals), or why there is none. problem.step must be above zero. Deterministic.
tl::expected<StepPlan, NoSteps> solve_depths_in_steps(const DepthProblem& problem);

}  // namespace seatwright::shape
