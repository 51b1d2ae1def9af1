// The same guides held at another attitude: what a drag shows.
#pragma once

#include "seatwright/hold/hold.hpp"

namespace seatwright::hold {

// Plumb errors, map, margins and safety of that setup's guides at this tilt and swing (rad); says nothing in
// words.
Setup held_at(const job::Job& job, const Setup& setup, double tilt, double swing);

}  // namespace seatwright::hold
