// How a setup's fixture stands, in words.
#pragma once

#include <string>

#include "seatwright/hold/hold.hpp"
#include "seatwright/words/part.hpp"

namespace seatwright::report {

bool is_swung(const hold::Setup& setup);               // by as much as is shown
Sentence attitude_of(const hold::Setup& setup);        // as a clause of a sentence
std::string attitude_words(const hold::Setup& setup);  // "tilt 19.50°", "tilt 19.50°, swing 3.00°"

}  // namespace seatwright::report
