// Can the head slip or fall at the attitude it is held at?
#pragma once

#include "seatwright/hold/attitude.hpp"
#include "seatwright/hold/hold.hpp"

namespace seatwright::hold {

// Below this slip factor the clamps are said to be too weak (common practice: a factor of two on friction
// that is never known well).
inline constexpr double least_slip_factor = 2;
// Mass above which a lift is said to need two people or a hoist (common limit for one person; local rules
// decide).
inline constexpr double one_person_lift = 23;  // kg
// A deck flatter than this does not slide and has no slip factor: beyond any level's reading.
inline constexpr double flat_slope = 1e-9;  // rad

// slope: angle between the deck normal as held and the vertical. Clamped: 2·μ·F/(W·sin slope). Released: the
// head slides if tan slope > μ.
Safety safety_of(const job::Head& head, const job::Fixture& fixture, const Attitude& attitude);

// What must be said of it: sentences for one setup.
std::vector<Warning> safety_warnings(const Setup& setup);

// Said once for the head: heavier than one person lifts.
std::optional<Warning> lift_warning(const job::Job& job);

}  // namespace seatwright::hold
