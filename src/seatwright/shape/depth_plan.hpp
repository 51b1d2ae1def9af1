// From limits to depths: seats beyond their limit are proposed for inserts, quarrels between limits are named
// with what would settle them, and the rest is planned. docs/shape-depth.md.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/base/units.hpp"
#include "seatwright/shape/depth_problem.hpp"
#include "seatwright/shape/shape.hpp"

namespace seatwright::shape {

struct DepthOutcome {
    std::vector<std::optional<double>> depth;  // per seat of the problem; none: proposed for an insert
    std::vector<bool> for_insert;              // per seat of the problem
    DepthPlan plan;
    std::vector<Warning> warnings;
};

// `unit` is for the sentences alone. Conflict::Member::valve are DepthSeat::valve.
DepthOutcome plan_depths(const DepthProblem& problem, LengthUnit unit);

// The depths of one head out of the plan of all heads with seat readings (and this one) to common heights:
// seats and spreads are this head's, conflicts are the whole batch's, plan.batch tells of all. More than
// `most_batch_seats` seats together are not tried: the head is planned alone, with a blocking warning.
DepthOutcome plan_in_batch(const job::Job& job, const hold::Hold& hold, const std::string& head);

// The linear program of so many seats still answers within seconds.
inline constexpr std::size_t most_batch_seats = 1024;

}  // namespace seatwright::shape
