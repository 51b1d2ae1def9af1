#include "seatwright/cut/force.hpp"

#include <cmath>

namespace seatwright::cut {

double specific_pressure(const CuttingData& data, double chip) {
    require(chip > 0, "chip thickness is positive");
    return data.kc11 * std::pow(chip, -data.mc);
}

Load load_of(const CutForm& form, const CuttingData& data, double feed, int blades) {
    require(feed > 0 && blades >= 1, "feed and blades are positive");
    const double per_blade = feed / blades;
    Load load;
    load.chip = per_blade * std::cos(form.face_angle);
    double radial = 0;
    for (const EngagedFacet& facet : form.facets) {
        const double chip = per_blade * std::cos(facet.angle);
        // A facet that stands upright takes no chip from an axial feed.
        if (chip <= 0) continue;
        const double force = specific_pressure(data, chip) * chip * facet.width;
        load.cutting += force;
        load.torque += blades * force * facet.mid_radius;
        load.thrust += blades * data.normal_ratio * force * std::cos(facet.angle);
        radial += data.normal_ratio * force * std::sin(facet.angle);
    }
    load.side = std::hypot(load.cutting, radial);
    if (load.chip > 0) load.stiffness = blades * specific_pressure(data, load.chip);
    return load;
}

double power_of(double torque, double rpm) {
    return 2 * pi * rpm / 60 * torque / 1000;
}

}  // namespace seatwright::cut
