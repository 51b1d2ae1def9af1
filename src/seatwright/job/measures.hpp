// The unit table behind quantity.hpp: which units there are, what they measure, and their factors.
#pragma once

#include <optional>
#include <span>
#include <string_view>

#include "seatwright/job/quantity.hpp"

namespace seatwright::job {

// What a unit measures; several dimensions may share one.
enum class Base {
    length,
    angle,
    mass,
    force,
    power,
    torque,
    frequency,
    stiffness,
    stress,
    expansion,
    speed,
    acceleration,
    volume,
    area,
    vacuum,
    ratio,
    rotation,
    number,
    per_turn,
    time
};

struct Unit {
    std::string_view text;  // as compared: no spaces, u for the micro sign, 2 and 3 for raised figures
    Base base;
    double
        factor;  // to the base's own unit: mm, rad, kg, N, W, N·mm, Hz, N/mm, MPa, 1/K, mm/s, mm/s2, mm3, kPa
    bool shown = true;  // offered in sentences; spellings and rare ones are understood but not offered
};

struct Measure {
    Dimension dimension;
    std::string_view name;
    Base base;
    std::string_view bare;  // unit of a bare number; empty = the file's length unit or none
    double bare_factor;     // of the bare unit to the base's own unit
    double memory_factor;   // of the memory unit to the base's own unit
};

const Measure& measure(Dimension dimension);
std::span<const Unit> all_units();

// Whether units of that base may stand behind numbers of this measure.
bool fits(const Measure& m, Base base);
// The unit for this measure: as written, else whatever its case; null if there is none.
const Unit* find_unit(std::string_view text, const Measure& m);
// The name of what a unit measures, if it is a unit at all.
std::optional<std::string_view> measured_by(std::string_view text);

}  // namespace seatwright::job
