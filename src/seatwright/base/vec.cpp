#include "seatwright/base/vec.hpp"

#include <Eigen/Geometry>
#include <cmath>

namespace seatwright {

Mat3 attitude_rotation(double tilt, double swing) {
    const double ct = std::cos(tilt), st = std::sin(tilt);
    const double cs = std::cos(swing), ss = std::sin(swing);
    Mat3 about_x;
    about_x << 1, 0, 0, 0, ct, -st, 0, st, ct;
    Mat3 about_y;
    about_y << cs, 0, ss, 0, 1, 0, -ss, 0, cs;
    return about_x * about_y;
}

Mat2 plane_rotation(double yaw) {
    Mat2 r;
    r << std::cos(yaw), -std::sin(yaw), std::sin(yaw), std::cos(yaw);
    return r;
}

Vec3 guide_axis(double incline, double cant) {
    return Vec3(std::tan(cant), std::tan(incline), 1.0).normalized();
}

double angle_between(const Vec3& a, const Vec3& b) {
    return std::atan2(a.cross(b).norm(), a.dot(b));
}

}  // namespace seatwright
