// How high a ball's centre stands where it rests. Lengths mm, angles rad.
#pragma once

namespace seatwright::survey {

// Over the plane of a hole's rim, square to it: √(R² − r²). R 10 on r 6.75: 7.3782 (working.md, B9).
double ball_over_rim(double ball_radius, double hole_radius);

// On a seat's cone (face angle from the plane square to the guide's axis) the ball touches at R·sin α from
// the axis. Its centre over the plane of the circle it touches, along the axis: R·cos α; over that of a gauge
// circle of that radius further in or out on the same cone: (R·sin α − r)·tan α more.
double ball_touches_at(double ball_radius, double face_angle);
double ball_over_gauge(double ball_radius, double face_angle, double gauge_radius);

}  // namespace seatwright::survey
