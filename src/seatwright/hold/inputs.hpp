// The figures hold stands on and where each came from; what a question or a template made up is no ground to
// cut on.
#pragma once

#include <vector>

#include "seatwright/hold/hold.hpp"

namespace seatwright::hold {

// "job", "casting", "survey", "shelf", "default".
const char* word_of(From from);

// Every figure of head, guides, fixture and machine that hold uses and that is given, in mm, deg, kg, N or as
// a ratio.
std::vector<Input> inputs_of(const job::Job& job);

// Bolt holes, valve places, angles, mass or guide bores that were made up: one blocking warning
// ("not-from-you") that names them, and the head held back until they are given.
void say_made_up(const job::Job& job, Hold& hold);

}  // namespace seatwright::hold
