// Cutting forces of a form by Kienzle's law, one facet at a time.
//
// A facet at angle α of a cutter with z blades fed f per turn takes a chip h = (f/z)·cos α thick; the force
// on each blade is F_c = Σ kc11·h^(1−mc)·b over its facets of engaged width b (O. Kienzle, VDI-Z 94 (1952)).
// Lengths mm, forces N, torque N·mm, pressures N/mm2.
#pragma once

#include "seatwright/base/fault.hpp"
#include "seatwright/cut/form.hpp"

namespace seatwright::cut {

struct CuttingData {
    double kc11 = 0;          // N/mm2 at a chip 1 mm thick and 1 mm wide
    double mc = 0;            // 0 <= mc < 1
    double normal_ratio = 0;  // normal force over cutting force
};

struct Load {
    double chip = 0;       // thickness on the sealing facet
    double cutting = 0;    // tangential force on one blade
    double side = 0;       // force on one blade square to the spindle: tangential and radial together
    double torque = 0;     // of all blades
    double thrust = 0;     // along the spindle, of all blades
    double stiffness = 0;  // cutting stiffness per width of form, N/mm per mm, all blades: z·kc(chip)
    bool operator==(const Load&) const = default;
};

// Specific cutting pressure kc = kc11·h^(−mc); h > 0.
double specific_pressure(const CuttingData& data, double chip);

// Loads of the whole form at `feed` mm per turn (> 0) with `blades` >= 1 blades evenly spaced.
Load load_of(const CutForm& form, const CuttingData& data, double feed, int blades);

// Power in W of a torque in N·mm at `rpm` turns a minute.
double power_of(double torque, double rpm);

}  // namespace seatwright::cut
