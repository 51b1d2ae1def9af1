// How runouts, widths and stem heights of each kind are distributed over the batch.
#pragma once

#include "seatwright/forecast/draw.hpp"
#include "seatwright/forecast/forecast.hpp"
#include "seatwright/forecast/seats.hpp"

namespace seatwright::forecast {

std::vector<Characteristic> characteristics_of(const MadeBatch& made);

// The same as drawn, in place of what was integrated.
void take_figures(std::vector<Characteristic>& characteristics, const Drawn& drawn);

}  // namespace seatwright::forecast
