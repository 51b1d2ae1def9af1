// Speeds, torques, forces and pressures as a person reads them who reads lengths in this unit: beside inches
// stand ft/min, lbf·ft, lbf, psi and hp, beside millimetres m/min, N·m, N, MPa and W. The number alone for a
// column of a table, with its unit for a sentence.
#pragma once

#include <string>

#include "seatwright/base/units.hpp"

namespace seatwright {

// From memory units to the unit shown, and that unit's name.
struct InUnit {
    double value = 0;
    const char* unit = "";
};

InUnit surface_speed_in_unit(double m_per_min, LengthUnit unit);  // ft/min | m/min
InUnit torque_in_unit(double newton_mm, LengthUnit unit);         // lbf·ft | N·m
InUnit force_in_unit(double newton, LengthUnit unit);             // lbf | N
InUnit pressure_in_unit(double mpa, LengthUnit unit);             // psi | MPa
InUnit power_in_unit(double watt, LengthUnit unit);               // hp | W

// "312 ft/min", "31 m/min".
std::string words_of(const InUnit& shown, int decimals);

}  // namespace seatwright
