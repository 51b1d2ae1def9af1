// Vectors and rotations in the frames of the house.
//
// Head frame, right-handed: X along the crank axis, deck is the plane z = 0, +Z out of the deck away from the
// casting. Machine frame, right-handed: X the long table axis, Y the cross axis, Z up along the spindle.
// A point P of the head goes to Rx(tilt) · Ry(swing) · P in the machine. Lengths mm, angles rad.
#pragma once

#include <Eigen/Core>

namespace seatwright {

using Vec2 = Eigen::Vector2d;
using Vec3 = Eigen::Vector3d;
using Mat2 = Eigen::Matrix2d;
using Mat3 = Eigen::Matrix3d;

// Rx(tilt) · Ry(swing): head frame to machine frame; swing is the inner rotation.
Mat3 attitude_rotation(double tilt, double swing);

// Plane rotation by `yaw` (rad, counter-clockwise).
Mat2 plane_rotation(double yaw);

// Direction of a guide axis in the head frame, (tan cant, tan incline, 1) made a unit vector.
Vec3 guide_axis(double incline, double cant);

// Angle between two unit vectors, 0..pi, accurate for nearly parallel ones too.
double angle_between(const Vec3& a, const Vec3& b);

}  // namespace seatwright
