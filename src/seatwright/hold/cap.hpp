// The smallest spherical cap that holds a set of directions.
#pragma once

#include <optional>
#include <vector>

#include "seatwright/base/vec.hpp"

namespace seatwright::hold {

struct Cap {
    Vec3 centre = Vec3::UnitZ();  // unit
    double radius = 0;            // rad
};

// The smallest cap around unit vectors that all lie in one open half-space (guide axes have z > 0). It is
// spanned by one, two or three of them; found by the incremental method for smallest enclosing balls
// (E. Welzl, "Smallest enclosing disks (balls and ellipsoids)", LNCS 555, 1991). Accurate to about 1e-15 rad
// over the cap's radius. `directions` must not be empty.
Cap smallest_cap(const std::vector<Vec3>& directions);

// The cap with two directions on opposite ends of its rim.
Cap cap_of_two(const Vec3& a, const Vec3& b);

// The cap with three directions on its rim; nothing if they are (nearly) on one great circle through its
// centre or coincide.
std::optional<Cap> cap_of_three(const Vec3& a, const Vec3& b, const Vec3& c);

}  // namespace seatwright::hold
