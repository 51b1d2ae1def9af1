// Openings of the deck that a ball or block must keep clear of.
#pragma once

#include <vector>

#include "seatwright/shape/zero_task.hpp"

namespace seatwright::shape {

// Bolt holes, obstacles where their axis meets the deck, and over each valve the chamber's opening, at least
// its head's diameter about its guide's axis. Head frame; an opening whose size is not known is left out.
std::vector<DeckHole> deck_holes(const job::Job& job);

}  // namespace seatwright::shape
