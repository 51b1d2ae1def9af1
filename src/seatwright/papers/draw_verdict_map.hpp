// The head in plan, every seat marked by its verdict in shape and word.
#pragma once

#include "seatwright/papers/svg.hpp"
#include "seatwright/prove/prove.hpp"

namespace seatwright::papers {

// Seats of `head` as seen on the deck, X to the right, Y up, to scale; `width` mm of paper.
Drawing draw_verdict_map(const job::Job& job, const prove::Proof& proof, const std::string& head,
                         double width);

}  // namespace seatwright::papers
