// Where the runout comes from: mean squares of independent parts add, exactly.
#pragma once

#include <vector>

#include "seatwright/forecast/forecast.hpp"
#include "seatwright/forecast/seats.hpp"

namespace seatwright::forecast {

// Posts, yaw, casting, touch, positioning, play, pilot runout, attitude, guide direction, residual; those
// that bring nothing are left out.
std::vector<Cause> causes_of(const MadeBatch& made, const Frame& frame);

// Mean square of the runout over all seats alike, mm².
double runout_square(const MadeBatch& made, const Frame& frame);

}  // namespace seatwright::forecast
