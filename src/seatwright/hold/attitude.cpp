#include "seatwright/hold/attitude.hpp"

#include <algorithm>
#include <cmath>

#include "seatwright/base/units.hpp"

namespace seatwright::hold {

Reach reach_of(const job::Fixture& fixture) {
    const auto cut = [](const job::Range& range, double most) {
        const double low = std::clamp(std::min(range.low, range.high), -most, most);
        const double high = std::clamp(std::max(range.low, range.high), -most, most);
        return job::Range{low, high};
    };
    return {cut(fixture.tilt, pi / 2), cut(fixture.swing, pi)};
}

Vec3 spindle_in_head(const Attitude& attitude) {
    const double cos_tilt = std::cos(attitude.tilt);
    return {-std::sin(attitude.swing) * cos_tilt, std::sin(attitude.tilt),
            std::cos(attitude.swing) * cos_tilt};
}

Attitude attitude_for(const Vec3& u) {
    // + 0.0 turns −0 into 0, which would otherwise be printed with its sign.
    return {std::atan2(u.y(), std::hypot(u.x(), u.z())) + 0.0, -std::atan2(u.x(), u.z()) + 0.0};
}

bool within(const Reach& reach, const Attitude& attitude) {
    const auto holds = [](const job::Range& range, double v) {
        return v >= range.low - angle_tie && v <= range.high + angle_tie;
    };
    return holds(reach.tilt, attitude.tilt) && holds(reach.swing, attitude.swing);
}

Attitude clamped(const Reach& reach, const Attitude& attitude) {
    return {std::clamp(attitude.tilt, reach.tilt.low, reach.tilt.high) + 0.0,
            std::clamp(attitude.swing, reach.swing.low, reach.swing.high) + 0.0};
}

double angle_by_chord(const Vec3& a, const Vec3& b) {
    return 2 * std::asin(std::min(1.0, (a - b).norm() / 2));
}

double plumb_error(const Vec3& axis, const Attitude& attitude) {
    return angle_between(axis, spindle_in_head(attitude));
}

}  // namespace seatwright::hold
