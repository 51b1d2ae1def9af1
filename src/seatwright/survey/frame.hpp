// Which head frame the solution is told in. Deck z = 0 and +Z out of it stand in the model; here stand X
// along the row and the origin: X is the line of the holes that stand in rows along the head, else that of
// like guides over the cylinders, else the readout's; the origin is the mean of the first cylinder's guides.
#pragma once

#include <array>
#include <vector>

#include "seatwright/survey/model.hpp"

namespace seatwright::survey {

// What the frame may be made of: places that are known against each other.
struct FrameParts {
    std::vector<bool> holes, guides;                // in X and Y
    std::array<std::vector<bool>, 2> guides_along;  // in X, in Y
    std::size_t setup = 0;                          // whose X is taken where no row says how X lies
    bool operator==(const FrameParts&) const = default;
};

enum class Along { holes, guides, readout };

struct Frame {
    std::vector<Row> rows;  // three conditions that fix it, linear about the unknowns they were made for
    Along along = Along::readout;
    int cylinder = 0;            // whose guides are the origin; 0: the first hole is
    bool whole_cylinder = true;  // all guides named of it
};

Frame frame_of(const Layout& layout, const FrameParts& parts, const Eigen::VectorXd& unknowns);

// All places turned and moved in the deck's plane until X lies along the row and the origin is where it
// belongs.
void turn_into(const Layout& layout, const FrameParts& parts, Eigen::VectorXd& unknowns);

// Whether the cylinders' numbers fall along X: the head lies turned end for end on the table.
bool numbered_backwards(const Layout& layout, const std::vector<bool>& guides,
                        const Eigen::VectorXd& unknowns);

}  // namespace seatwright::survey
