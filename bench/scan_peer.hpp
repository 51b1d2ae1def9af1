// The peer of scan: CGAL's efficient RANSAC (Schnabel, Wahl, Klein 2007) for planes and cylinders, with the
// normals given or its own by principal components, and our last least squares over the points it assigns to
// each cylinder. CGAL stands in the benches alone.
#pragma once

#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Shape_detection/Efficient_RANSAC.h>
#include <CGAL/pca_estimate_normals.h>

#include "scan/made_head.hpp"
#include "seatwright/scan/cylinder.hpp"

namespace seatwright::scan::peer {

using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
using WithNormal = std::pair<Kernel::Point_3, Kernel::Vector_3>;
using Set = std::vector<WithNormal>;
using Traits =
    CGAL::Shape_detection::Efficient_RANSAC_traits<Kernel, Set, CGAL::First_of_pair_property_map<WithNormal>,
                                                   CGAL::Second_of_pair_property_map<WithNormal>>;
using Ransac = CGAL::Shape_detection::Efficient_RANSAC<Traits>;

struct Normals {
    bool given = true;
};

// The cylinders it finds that could be bores, each fitted as ours are.
inline std::vector<CylinderFit> bores_of(Set points, Normals normals, double sd) {
    constexpr int neighbours = 16;
    if (!normals.given)
        CGAL::pca_estimate_normals<CGAL::Sequential_tag>(
            points, neighbours,
            CGAL::parameters::point_map(CGAL::First_of_pair_property_map<WithNormal>())
                .normal_map(CGAL::Second_of_pair_property_map<WithNormal>()));
    CGAL::get_default_random() = CGAL::Random(1);
    Ransac ransac;
    ransac.set_input(points);
    ransac.add_shape_factory<CGAL::Shape_detection::Plane<Traits>>();
    ransac.add_shape_factory<CGAL::Shape_detection::Cylinder<Traits>>();
    Ransac::Parameters how;
    how.probability = 0.01;
    how.min_points = points.size() / 700;  // a bolt hole has a 280th of them
    how.epsilon = 4 * sd;
    how.cluster_epsilon = 2.5;
    how.normal_threshold = 0.85;
    ransac.detect(how);
    std::vector<CylinderFit> out;
    for (const auto& shape : ransac.shapes()) {
        const auto* found = dynamic_cast<CGAL::Shape_detection::Cylinder<Traits>*>(shape.get());
        if (found == nullptr || found->radius() < 1.4 || found->radius() > 11) continue;
        Cylinder start;
        const auto line = found->axis();
        const auto way = line.to_vector();
        start.axis = Vec3(way.x(), way.y(), way.z()).normalized();
        if (start.axis.z() < 0) start.axis = -start.axis;
        const auto on = line.point(0);
        start.at = Vec3(on.x(), on.y(), on.z());
        start.radius = found->radius();
        std::vector<Point> own;
        start.low = 1e30;
        start.high = -1e30;
        for (const auto i : found->indices_of_assigned_points()) {
            const auto& p = points[i].first;
            own.push_back({static_cast<float>(p.x()), static_cast<float>(p.y()), static_cast<float>(p.z())});
            const double along = start.axis.dot(own.back().vec() - start.at);
            start.low = std::min(start.low, along);
            start.high = std::max(start.high, along);
        }
        if (const auto fit = fit_cylinder(own, start, 8 * sd)) out.push_back(*fit);
    }
    return out;
}

}  // namespace seatwright::scan::peer
