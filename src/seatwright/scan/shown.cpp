#include "seatwright/scan/shown.hpp"

#include <algorithm>
#include <cmath>

#include "seatwright/scan/noise.hpp"
#include "seatwright/scan/parts.hpp"

namespace seatwright::scan {
namespace {

// Along and across an axis, from the middle of the wall that is seen.
struct About {
    double along = 0, across = 0;
};
About about(const Cylinder& wall, const Vec3& p) {
    const Vec3 d = p - wall.at;
    const double along = wall.axis.dot(d);
    return {along, std::sqrt(std::max(d.squaredNorm() - along * along, 0.0))};
}

bool on_wall(const Cylinder& wall, const About& a, double band) {
    return std::abs(a.across - wall.radius) < band && a.along > wall.low && a.along < wall.high;
}

bool on_seat(const Valve& v, const About& a, double band) {
    return std::any_of(v.facets.begin(), v.facets.end(), [&](const FacetFound& f) {
        const double radius = a.across, inner = f.inner / 2, outer = f.outer / 2;
        if (radius < inner || radius > outer || outer <= inner) return false;
        const double height =
            f.inner_height + (radius - inner) / (outer - inner) * (f.outer_height - f.inner_height);
        return std::abs(a.along - height) * std::cos(f.angle) < band;
    });
}

}  // namespace

std::vector<Shown> shown_of(const Points& few, const Scan& scan) {
    const double band = band_sds * std::max(scan.deck_rms, least_noise);
    constexpr std::size_t most = 255;
    std::vector<Shown> out(few.size());
    in_parts(parts_of(few.size()), [&](const Part& part) {
        for (std::size_t i = part.begin; i < part.end; ++i) {
            const Vec3 p = scan.placed_by.at(few[i]);
            Shown& one = out[i];
            one.at = {static_cast<float>(p.x()), static_cast<float>(p.y()), static_cast<float>(p.z())};
            if (std::abs(p.z()) < band) one.on = On::deck;
            for (std::size_t k = 0; k < std::min(scan.valves.size(), most); ++k) {
                const auto& v = scan.valves[k];
                const About a = about(v.wall, p);
                const bool guide = on_wall(v.wall, a, band);
                if (!guide && !on_seat(v, a, band)) continue;
                one.on = guide ? On::guide : On::seat;
                one.which = static_cast<std::uint8_t>(k);
            }
            for (std::size_t k = 0; k < std::min(scan.holes.size(), most); ++k) {
                if (!on_wall(scan.holes[k].wall, about(scan.holes[k].wall, p), band)) continue;
                one.on = On::hole;
                one.which = static_cast<std::uint8_t>(k);
            }
        }
    });
    return out;
}

}  // namespace seatwright::scan
