// An ask as a sentence to somebody at the machine.
#pragma once

#include <string>

#include "seatwright/survey/ask.hpp"

namespace seatwright::survey {

std::string words_of(const Ask& ask);

}  // namespace seatwright::survey
