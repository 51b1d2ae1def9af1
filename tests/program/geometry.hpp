// Vectors and turns of the simulated machine, written once more on purpose: nothing here comes from src/.
// mm, rad; head and machine frames as shared by the job file.
#pragma once

#include <cmath>

namespace seatwright::sim {

inline constexpr double half_turn_deg = 180;
inline double radians(double deg) {
    return deg * std::acos(-1.0) / half_turn_deg;
}

struct P2 {
    double x = 0, y = 0;
};
inline P2 operator+(P2 a, P2 b) {
    return {a.x + b.x, a.y + b.y};
}
inline P2 operator-(P2 a, P2 b) {
    return {a.x - b.x, a.y - b.y};
}
inline double length(P2 a) {
    return std::hypot(a.x, a.y);
}
inline P2 turned(P2 a, double yaw) {
    return {a.x * std::cos(yaw) - a.y * std::sin(yaw), a.x * std::sin(yaw) + a.y * std::cos(yaw)};
}

struct P3 {
    double x = 0, y = 0, z = 0;
};
inline P3 operator-(P3 a, P3 b) {
    return {a.x - b.x, a.y - b.y, a.z - b.z};
}

// First about Y by the swing, then about X by the tilt.
struct Attitude {
    double tilt = 0, swing = 0;
    P3 apply(P3 p) const {
        const double x = std::cos(swing) * p.x + std::sin(swing) * p.z;
        const double z = -std::sin(swing) * p.x + std::cos(swing) * p.z;
        return {x, std::cos(tilt) * p.y - std::sin(tilt) * z, std::sin(tilt) * p.y + std::cos(tilt) * z};
    }
    P3 undo(P3 p) const {
        const double y = std::cos(tilt) * p.y + std::sin(tilt) * p.z,
                     z = -std::sin(tilt) * p.y + std::cos(tilt) * p.z;
        return {std::cos(swing) * p.x - std::sin(swing) * z, y, std::sin(swing) * p.x + std::cos(swing) * z};
    }
};

}  // namespace seatwright::sim
