// What a change costs and which one helps most, in words.
#pragma once

#include <string>

#include "seatwright/forecast/forecast.hpp"
#include "seatwright/words/in_words.hpp"

namespace seatwright::batch {

// What a cause or a change is called where a person reads it: "level of the head" for the attitude.
std::string said_of(const std::string& cause, const Speech& speech);
// "15 s a head, 12.30 EUR the batch", "once 10 min, 12.30 EUR the batch", "once, of the shelf".
Sentence cost_of(const forecast::Change::Cost& cost);
// The one change that brings most, as a sentence; or that none is worth telling. Its settings stand in it as
// the tables have them, in that unit.
Sentence best_change(const forecast::Forecast& forecast, LengthUnit unit);

}  // namespace seatwright::batch
