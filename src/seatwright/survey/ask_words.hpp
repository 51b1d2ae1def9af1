// An ask as a sentence to somebody at the machine.
#pragma once

#include "seatwright/survey/ask.hpp"
#include "seatwright/words/part.hpp"

namespace seatwright::survey {

Sentence words_of(const Ask& ask);

}  // namespace seatwright::survey
