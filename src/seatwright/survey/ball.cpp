#include "seatwright/survey/ball.hpp"

#include <cmath>

namespace seatwright::survey {

double ball_over_rim(double ball_radius, double hole_radius) {
    return std::sqrt((ball_radius - hole_radius) * (ball_radius + hole_radius));
}

double ball_touches_at(double ball_radius, double face_angle) {
    return ball_radius * std::sin(face_angle);
}

double ball_over_gauge(double ball_radius, double face_angle, double gauge_radius) {
    return ball_radius * std::cos(face_angle) +
           (ball_touches_at(ball_radius, face_angle) - gauge_radius) * std::tan(face_angle);
}

}  // namespace seatwright::survey
