// The deck: the plane most points lie on.
#pragma once

#include <optional>
#include <vector>

#include "seatwright/scan/cloud.hpp"
#include "seatwright/scan/noise.hpp"

namespace seatwright::scan {

struct Plane {
    Vec3 normal = Vec3::UnitZ();
    double level = 0;  // normal·p of its points
    double sd = 0;     // how far points scatter about it
    double share = 0;  // of the points that lie on it
};

struct Deck : Plane {
    // Another plane, parallel, with more than half as many points: a table, a rocker face; which of the two
    // is the deck is then asked.
    std::optional<double> rival;  // how far off along the normal
    double rival_share = 0;
};

// Planes by samples, the best made fine by passes over all points with bands that are multiples of the noise;
// its normal points away from where most other points lie. Deterministic. None: no plane carries a fiftieth
// of the points. mm.
std::optional<Deck> deck_of(const Points& points);

}  // namespace seatwright::scan
