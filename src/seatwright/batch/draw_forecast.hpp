// A forecast drawn: how a figure lies against its limits, what runout comes from, good heads over the batch.
#pragma once

#include "seatwright/forecast/forecast.hpp"
#include "seatwright/papers/page/svg.hpp"
#include "seatwright/words/in_words.hpp"

namespace seatwright::batch {

// A histogram with its limits as upright lines; `width` mm of paper.
papers::Drawing draw_distribution(const forecast::Characteristic& figure, double width, const Speech& speech);
// A bar a cause, largest first.
papers::Drawing draw_forecast_causes(const std::vector<forecast::Cause>& causes, double width,
                                     const Speech& speech);
// A bar a change, what it brings with its limits and what it costs; best first, `most` of them.
papers::Drawing draw_forecast_changes(const forecast::Forecast& forecast, double width, const Speech& speech,
                                      std::size_t most);
// Chance of a good head over the heads of the batch, changes of the blade marked.
papers::Drawing draw_by_head(const forecast::Forecast& forecast, double width);

}  // namespace seatwright::batch
