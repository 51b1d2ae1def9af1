// Old seats that lie elsewhere than a program's Z takes them.
#pragma once

#include "seatwright/shape/before.hpp"
#include "seatwright/shape/shape.hpp"

namespace seatwright::shape {

// A program counts depths from where the drawing puts the old seats, from the datum's or from the deck. One
// warning for each setup in which the readings of recession say otherwise of a seat to be cut by more than a
// depth step (and 0.01 mm): by how much at the most, and where.
Notices old_heights(const job::Job& job, const hold::Hold& hold, const HeadBefore& before,
                    const std::vector<Seat>& seats);

}  // namespace seatwright::shape
