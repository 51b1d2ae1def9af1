// How a cylinder repeats along the head: spacing, alternate order, and who stands out of it.
#pragma once

#include <optional>
#include <vector>

#include "seatwright/survey/state.hpp"

namespace seatwright::survey {

struct Pattern {
    double spacing = 0;     // mm, from cylinder to cylinder
    double u_spacing = 0;   // standard uncertainty by the scatter of the guides about the pattern
    bool mirrored = false;  // cylinders 2, 4, …: x the other way round about the cylinder's centre
    bool decided = false;   // same and mirrored order differ for these guides
    std::vector<Vec2> expected, off;  // of each guide of the layout; off = place − expected, zero where open
    std::vector<std::size_t> strays;  // guides that do not stand where the others put them
    double residual = 0;              // the largest |coordinate| off among the others
    std::size_t spare = 0;            // coordinates beyond those the pattern is fitted to, strays not counted
    double chance = 1;                // that places by chance agree as well
};

// Least squares where all guides repeat. Where they do not, but without one or two of them all would, those
// are strays (every one that could be as well); else least absolute deviations and what lies far beyond the
// others' scatter. None where fewer than two cylinders are placed, or too few guides to show a pattern.
std::optional<Pattern> pattern_of(const State& state);

// How far beyond its fellows' scatter a figure must lie to be called wrong, and the least that is said of,
// mm: guides of a casting stray by 0.05 to 0.15 (from memory), repaired ones by more.
inline constexpr double times_scatter = 8, least_stray = 1.0;

// The scatter of figures about 0, by the middle of their sizes: a stray does not widen it.
double robust_scatter(std::vector<double> off);

// The chance that `spare` coordinates, each by chance anywhere in a window of that width, all come within
// `residual` of where they are expected.
double chance_of(double residual, double window, std::size_t spare);

}  // namespace seatwright::survey
