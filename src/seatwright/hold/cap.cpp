#include "seatwright/hold/cap.hpp"

#include <Eigen/Geometry>
#include <algorithm>

#include "seatwright/base/fault.hpp"
#include "seatwright/hold/attitude.hpp"

namespace seatwright::hold {

namespace {

// A direction this little outside the rim is on it: a few roundings of unit vectors.
constexpr double rim_rounding = 4e-16;

bool holds(const Cap& cap, const Vec3& direction) {
    return angle_by_chord(cap.centre, direction) <= cap.radius + rim_rounding;
}

// Smallest cap of the first `count` directions with p and q on its rim.
Cap with_two_on_rim(const std::vector<Vec3>& directions, std::size_t count, const Vec3& p, const Vec3& q) {
    Cap cap = cap_of_two(p, q);
    for (std::size_t k = 0; k < count; ++k) {
        if (holds(cap, directions[k])) continue;
        if (const auto wider = cap_of_three(p, q, directions[k])) cap = *wider;
    }
    return cap;
}

// Smallest cap of the first `count` directions with p on its rim.
Cap with_one_on_rim(const std::vector<Vec3>& directions, std::size_t count, const Vec3& p) {
    Cap cap{p, 0};
    for (std::size_t j = 0; j < count; ++j)
        if (!holds(cap, directions[j])) cap = with_two_on_rim(directions, j, p, directions[j]);
    return cap;
}

}  // namespace

Cap cap_of_two(const Vec3& a, const Vec3& b) {
    const Vec3 centre = (a + b).normalized();
    return {centre, std::max(angle_by_chord(centre, a), angle_by_chord(centre, b))};
}

std::optional<Cap> cap_of_three(const Vec3& a, const Vec3& b, const Vec3& c) {
    // The centre is at equal chords from all three: along the normal of the plane through their tips.
    Vec3 normal = (b - a).cross(c - a);
    const double length = normal.norm();
    if (!(length > 0)) return std::nullopt;
    normal /= length;
    if (normal.dot(a) < 0) normal = -normal;
    const double radius =
        std::max({angle_by_chord(normal, a), angle_by_chord(normal, b), angle_by_chord(normal, c)});
    return Cap{normal, radius};
}

Cap smallest_cap(const std::vector<Vec3>& directions) {
    require(!directions.empty(), "a cap needs at least one direction");
    Cap cap{directions.front(), 0};
    for (std::size_t i = 1; i < directions.size(); ++i)
        if (!holds(cap, directions[i])) cap = with_one_on_rim(directions, i, directions[i]);
    return cap;
}

}  // namespace seatwright::hold
