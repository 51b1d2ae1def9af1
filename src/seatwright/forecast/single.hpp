// One figure that is judged by itself: a seat's width, or a stem height where heights are not compared.
#pragma once

#include "seatwright/forecast/batch.hpp"
#include "seatwright/forecast/runout.hpp"

namespace seatwright::forecast {

// The chance that a normal figure counts as `judged` in its window; `u` of the measurement. No window: 1.
double single_chance(double mean, double sd, const Window& window, std::optional<double> u, Judged judged);

// That it is good and read as within `told`, whatever that is.
double both_chance(double mean, double sd, const Window& good, double u, const Window& told);

// The window made narrower by `by` at each end (wider if negative).
Window narrowed(const Window& window, double by);

}  // namespace seatwright::forecast
