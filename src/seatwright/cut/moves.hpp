// Time of a move with trapezoidal speed, and the times of handling.
#pragma once

#include "seatwright/job/shop.hpp"

namespace seatwright::cut {

// Used when the machine names none: a modest table.
inline constexpr double usual_rapid = 100;  // mm/s
inline constexpr double usual_accel = 500;  // mm/s2
// Handling, from memory of what shops take; the job file has no place for a shop's own.
inline constexpr double change_seconds = 60;  // of the cutter, blades set
inline constexpr double setup_seconds = 180;  // to roll the head over, zero the datum guide, for each setup
inline constexpr double load_seconds = 300;   // one head on and off the posts

struct Drive {
    double speed = usual_rapid;  // mm/s
    double accel = usual_accel;  // mm/s2
};

Drive drive_of(const job::Machine& machine);

// Seconds from rest to rest over `distance` >= 0 mm at no more than `speed` (the drive's if larger).
double move_seconds(double distance, const Drive& drive, double speed);
double move_seconds(double distance, const Drive& drive);

}  // namespace seatwright::cut
