// How Z0 is taken, as the first halt and the card say it.
#pragma once

#include <string>

#include "seatwright/shape/zero_task.hpp"

namespace seatwright::shape {

// "Z0 of cutter 1 taken on 1E of head 6: cutter resting on the old seat, pilot in, …". `zero` has all but its
// words.
Sentence zero_words(const ZeroTask& task, const Zero& zero);

// Where the ball or block stands, as the readout shows it from the setup's datum: "X 83.464 mm, Y 22.111 mm
// on the readout".
Sentence readout_words(const Vec2& at);

}  // namespace seatwright::shape
