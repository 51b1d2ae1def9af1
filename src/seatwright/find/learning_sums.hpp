// The normal equations of what the heads on record show alike (learning.hpp), as sums over the heads.
#pragma once

#include <Eigen/Core>
#include <array>
#include <map>
#include <vector>

#include "seatwright/find/pose.hpp"
#include "seatwright/find/variance.hpp"

namespace seatwright::find {

struct Deviations;

// Of one head, its own offset and yaw eliminated, or of several.
struct LearningSums {
    std::vector<std::size_t> guide;  // seen, ascending
    Eigen::MatrixXd matrix;          // two rows and columns a guide
    Eigen::VectorXd right;
    double squares = 0, touch_variance = 0, touched = 0;
    double dof = 0;  // 2·touched guides − 3 a head
    std::size_t heads = 0;

    // Of heads that touched the same guides: what each guide's own scatter is made of. Whatever the means
    // come to, squares of what they leave follow from these.
    struct Own {
        Eigen::VectorXd left;     // deviations without the head's own pose
        Eigen::VectorXd squares;  // of those, a row a guide
        Eigen::VectorXd touch_variance;
        double heads = 0;
    };
    std::map<std::vector<std::size_t>, Own> own;            // by guides, in the order touched
    std::map<std::size_t, std::array<Moments, 2>> moments;  // of the deviations as they are, along both axes
};
LearningSums operator+(const LearningSums& a, const LearningSums& b);

LearningSums learning_sums(const Deviations& head, const std::vector<Expected>& declared);

// Residual maker of one head: I − G(GᵀG)⁻¹Gᵀ, G the columns of offset and yaw, for the guides it touched.
Eigen::MatrixXd without_pose(const Deviations& head, const std::vector<Expected>& declared);
// Its deviations one under the other.
Eigen::VectorXd stacked(const Deviations& head);

}  // namespace seatwright::find
