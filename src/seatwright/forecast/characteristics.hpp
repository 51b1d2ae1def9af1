// How runouts, widths and stem heights of each kind are distributed over the batch.
#pragma once

#include "seatwright/forecast/forecast.hpp"
#include "seatwright/forecast/seats.hpp"

namespace seatwright::forecast {

std::vector<Characteristic> characteristics_of(const MadeBatch& made);

}  // namespace seatwright::forecast
