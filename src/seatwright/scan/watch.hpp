// How far a scan has come, told while it goes on, and a way to stop it.
#pragma once

#include <functional>

namespace seatwright::scan {

enum class Step { reading, deck, bores, fitting };
// As a progress line says it: "looking for the deck".
const char* words_of(Step step);

// Thrown by a watch to stop the scan it is told of: the scan throws it on, and nothing is kept.
struct Stopped {};

// Told which step is under way and which part of it is done, 0 to 1; from any of the scan's threads, several
// at once. May be empty.
using Watch = std::function<void(Step, double part)>;

}  // namespace seatwright::scan
