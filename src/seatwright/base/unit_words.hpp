// Speeds, torques, forces and pressures as a person reads them who reads lengths in this unit: beside inches
// stand ft/min, lbf·ft, lbf, psi and hp, beside millimetres m/min, N·m, N, MPa and W. The number alone for a
// column of a table, with its unit for a sentence.
#pragma once

#include <string>

#include "seatwright/base/units.hpp"

namespace seatwright {

// From memory units to the unit shown, and that unit's name.
struct Shown {
    double value = 0;
    const char* unit = "";
};

Shown surface_speed_shown(double m_per_min, LengthUnit unit);  // ft/min | m/min
Shown torque_shown(double newton_mm, LengthUnit unit);         // lbf·ft | N·m
Shown force_shown(double newton, LengthUnit unit);             // lbf | N
Shown pressure_shown(double mpa, LengthUnit unit);             // psi | MPa
Shown power_shown(double watt, LengthUnit unit);               // hp | W

// "312 ft/min", "31 m/min".
std::string words_of(const Shown& shown, int decimals);

}  // namespace seatwright
