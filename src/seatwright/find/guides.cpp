#include "seatwright/find/guides.hpp"

#include <cmath>

#include "seatwright/base/numerics/disc_probability.hpp"

namespace seatwright::find {

Place place_guide(const Expected& guide, const Combined& read, const Pose& pose) {
    Place place{pose.at(guide.map), pose.covariance(guide.map)};
    const double scatter2 = guide.scatter * guide.scatter;
    double share = 0;  // k: how much of the miss is believed to be the casting's
    if (read.weight > 0) {
        share = scatter2 / (scatter2 + 1 / read.weight);
        place.at += share * (read.mean - place.at);
    }
    place.covariance *= (1 - share) * (1 - share);
    place.covariance.diagonal().array() += scatter2 * (1 - share);
    return place;
}

Vec2 as_programmed(const Vec2& at, double resolution) {
    if (!(resolution > 0)) return at;
    return {std::round(at.x() / resolution) * resolution, std::round(at.y() / resolution) * resolution};
}

double enter_probability(const Place& place, const Vec2& programmed, double positioning_sd,
                         double clearance) {
    Mat2 noise = place.covariance;
    noise.diagonal().array() += positioning_sd * positioning_sd;
    return numerics::disc_probability(place.at - programmed, noise, clearance);
}

}  // namespace seatwright::find
