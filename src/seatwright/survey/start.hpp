// Where the solution starts from: each setup's attitude as the sensor has it, setups laid over each other by
// the holes they share, guides where their setup has them. Within a few degrees and mm of the solution.
#pragma once

#include <Eigen/Core>
#include <vector>

#include "seatwright/survey/model.hpp"

namespace seatwright::survey {

struct Start {
    Eigen::VectorXd unknowns;
    // Which setups hang together by holes: those of one number.
    std::vector<std::size_t> component;
    // Of holes and guides: whether X and Y were read, so that the place is one.
    std::vector<bool> hole_placed, guide_placed;
    std::vector<std::size_t> hole_component, guide_component;
};

Start start_of(const Layout& layout, const std::vector<Row>& rows);

}  // namespace seatwright::survey
