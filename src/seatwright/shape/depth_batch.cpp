#include <algorithm>

#include "seatwright/shape/before.hpp"
#include "seatwright/shape/depth_plan.hpp"

namespace seatwright::shape {

namespace {

// One problem of all the heads' seats; every head's cylinders stay its own.
DepthProblem join(const std::vector<DepthProblem>& heads, const std::vector<std::string>& names) {
    DepthProblem all = heads.front();
    all.seats.clear();
    all.chamber.clear();
    all.cylinder_name.clear();
    for (std::size_t h = 0; h < heads.size(); ++h) {
        for (DepthSeat seat : heads[h].seats) {
            seat.name += " of head " + names[h];
            if (seat.cylinder) *seat.cylinder += all.chamber.size();
            all.seats.push_back(std::move(seat));
        }
        all.chamber.insert(all.chamber.end(), heads[h].chamber.begin(), heads[h].chamber.end());
        all.cylinder_name.insert(all.cylinder_name.end(), heads[h].cylinder_name.begin(),
                                 heads[h].cylinder_name.end());
    }
    return all;
}

}  // namespace

std::vector<DepthOutcome> plan_batch_depths(const job::Job& job, const std::vector<std::string>& heads,
                                            Together together) {
    std::vector<DepthProblem> problems;
    for (const auto& head : heads) problems.push_back(before_cutting(job, head).problem);
    if (problems.empty()) return {};
    if (together == Together::common_height) return {plan_depths(join(problems, heads), job.units)};
    std::vector<DepthOutcome> out;
    for (const auto& problem : problems) out.push_back(plan_depths(problem, job.units));
    return out;
}

}  // namespace seatwright::shape
