// The head in plan, every seat marked by its verdict in shape and word.
#pragma once

#include "seatwright/papers/drawings/draw_head.hpp"
#include "seatwright/papers/page/svg.hpp"
#include "seatwright/prove/prove.hpp"

namespace seatwright::papers {

struct VerdictMapView {
    double width = 180;  // mm of paper
    Medium medium = Medium::screen;
};

// Seats of `head` as seen on the deck, X to the right, Y up, to scale. In print a long head is parted into
// strips, and where the word would not be readable the shape stands alone, its meaning under the drawing.
Drawing draw_verdict_map(const job::Job& job, const prove::Proof& proof, const std::string& head,
                         const VerdictMapView& view);

// What one position did over all heads of a proof.
struct PositionCount {
    std::size_t measured = 0, fail = 0, undecided = 0, pass = 0;
    prove::Verdict worst = prove::Verdict::not_measured;
};
std::vector<PositionCount> count_positions(const job::Job& job, const prove::Proof& proof);

// The same map of a batch: each position marked by the worst verdict it had on any head, and in how many of
// the heads measured there ("3 of 24").
Drawing draw_position_map(const job::Job& job, const prove::Proof& proof, const VerdictMapView& view);

}  // namespace seatwright::papers
