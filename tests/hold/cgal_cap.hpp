// The smallest enclosing cap by an independent library: CGAL's smallest enclosing sphere.
#pragma once

#include <CGAL/Min_sphere_of_spheres_d.h>
#include <CGAL/Min_sphere_of_spheres_d_traits_3.h>
#include <CGAL/Simple_cartesian.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "seatwright/hold/cap.hpp"

namespace seatwright::oracle {

// The smallest ball around unit vectors of an open half-space has the same support as their smallest cap: its
// centre lies on the cap's axis and its radius is the sine of the cap's.
inline hold::Cap cap_by_cgal(const std::vector<Vec3>& axes) {
    using Kernel = CGAL::Simple_cartesian<double>;
    using Traits = CGAL::Min_sphere_of_spheres_d_traits_3<Kernel, double>;
    using Ball = CGAL::Min_sphere_of_spheres_d<Traits>;
    std::vector<Traits::Sphere> points;
    for (const auto& a : axes) points.emplace_back(Kernel::Point_3(a.x(), a.y(), a.z()), 0.0);
    Ball ball(points.begin(), points.end());
    Vec3 centre;
    std::copy(ball.center_cartesian_begin(), ball.center_cartesian_end(), centre.data());
    return {centre.normalized(), std::asin(ball.radius())};
}

}  // namespace seatwright::oracle
