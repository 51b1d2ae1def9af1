// Where a bore may be: pairs of places whose normals meet as those of one cylinder do.
#pragma once

#include <vector>

#include "seatwright/scan/cylinder.hpp"
#include "seatwright/scan/grid.hpp"

namespace seatwright::scan {

struct Candidate {
    Cylinder cylinder;
    double score = 0;  // places that agree, times the part of the turn they fill
};

// The best of each place, best first.
std::vector<Candidate> candidates_of(const Grid& grid, double sd, double density);

}  // namespace seatwright::scan
