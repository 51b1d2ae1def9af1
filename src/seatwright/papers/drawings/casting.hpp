// What stands for a casting in drawings where the job gives no outline, and where a long one is parted.
#pragma once

#include <map>
#include <optional>
#include <vector>

#include "seatwright/job/job.hpp"

namespace seatwright::papers {

// Rectangle (head frame, mm) that stands for the casting: bolt holes, seats and bores with a wall round them.
struct Casting {
    Vec2 low = Vec2::Zero(), high = Vec2::Zero();
    double thickness = 0;  // deck to the far side, enough for the guides
};
Casting implied_casting(const job::Head& head, const job::PerKind<std::optional<job::ValveForm>>& valve,
                        const job::PerKind<std::optional<job::GuideForm>>& guide);

// Radius a seat is drawn with: half its valve's head diameter, else its contact diameter, else 15 mm.
double drawn_radius(const job::Job& job, job::Kind kind);

// Centres of the cylinders by number: of the pattern, else the middle of each cylinder's seats.
std::map<int, Vec2> cylinder_centres(const job::Head& head);

// A part of a head along X, drawn as a strip of its own: what lies from `low` up to, not including, `high`.
struct Strip {
    double low = 0, high = 0;
    bool first = true, last = true;
    bool holds(double x) const { return (first || x >= low) && (last || x < high); }
};

// The head in `count` strips (fewer where there are fewer cylinders), cut half-way between cylinders; the
// outermost reach to `low` and `high`.
std::vector<Strip> strips_of(const job::Head& head, double low, double high, std::size_t count);

}  // namespace seatwright::papers
