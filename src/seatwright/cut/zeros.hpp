// Z zero of one cutter in one setup, out of what is known of its seats.
#pragma once

#include <tl/expected.hpp>

#include "seatwright/cut/known.hpp"
#include "seatwright/cut/route.hpp"
#include "seatwright/job/selection.hpp"

namespace seatwright::cut {

// Seats of one form in one setup, by their places in shape.seats; where changing a pilot takes the cutter
// off, those of them that one pilot leads.
struct FormInSetup {
    std::size_t setup = 0;  // index into hold.setups
    Tool tool;
    std::vector<std::size_t> all;      // every seat Z0 may be taken on, in the order its files cut them
    std::vector<std::size_t> planned;  // those its file cuts, in that order
    std::optional<std::size_t> pilot = std::nullopt;  // index into job.pilots: the only one it has
    // Whose touch the Z0 in the control comes from already (a valve); none: it is taken as the job says.
    std::optional<std::size_t> touched = std::nullopt;
};

// How Z0 is to be taken; after a broken blade also what is cut and what is left.
struct ZeroAsked {
    shape::ZeroTask task;
    Sentence restart;  // empty: nothing is known to be cut
};
// Error: with a new blade there is nothing to take Z0 on.
tl::expected<ZeroAsked, HeldBack> zero_asked(const Known& known, const FormInSetup& form,
                                             const job::Selection& selection);

// Heights of one seat along its guide, 0 = as drawn, up positive.
struct SeatHeights {
    std::optional<double> stop;       // −ρ − d, or −f; none: no depth is known
    std::optional<double> recession;  // ρ of the old seat, where it is read
    std::optional<double> u;          // its standard uncertainty
    std::optional<double> rest;       // κ; none: not known
    // What the way in reckons with, not below 0: κ, or of a seat nobody read what a new ring would hold by.
    double held_by = 0;
};
SeatHeights heights_of(const Known& known, const shape::Seat& seat);

// Whether a reading after cutting of that seat (its place in shape.seats) is there, good or not.
bool measured_after(const Known& known, std::size_t seat);

// Whether a seat (its place in shape.seats) is as deep as its plan already, by a reading after cutting, where
// part of a head is planned or Z0 is taken on a finished seat: it is not cut again.
bool done_already(const Known& known, std::size_t seat, const job::Selection& selection);

}  // namespace seatwright::cut
