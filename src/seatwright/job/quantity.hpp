// Numbers with units as people write them: in a job file ("0.0015 in", "50 um", "40 lb") and in a field of a
// screen (".0015", "1-9/16", "0,05"). One unit table serves both.
#pragma once

#include <string>
#include <string_view>
#include <tl/expected.hpp>

#include "seatwright/base/units.hpp"

namespace seatwright::job {

// What a number measures; fixes which units may stand behind it, what a bare number means, and the unit in
// memory.
enum class Dimension {
    length,         // bare: the file's units; memory mm
    feed,           // as length, per turn
    angle,          // bare deg; memory rad
    mass,           // bare kg
    force,          // bare N
    power,          // bare W
    torque,         // bare Nm; memory N·mm
    frequency,      // bare Hz
    stiffness,      // bare N/um; memory N/mm
    specific_cut,   // specific cutting force: bare N/mm2; memory N/mm2
    modulus,        // bare GPa; memory MPa
    expansion,      // bare 1e-6/K; memory 1/K
    surface_speed,  // bare m/min; memory m/min
    axis_speed,     // bare m/min; memory mm/s
    acceleration,   // bare m/s2; memory mm/s2
    volume,         // bare cm3; memory mm3
    area,           // bare cm2; memory mm2
    vacuum,         // bare kPa below atmosphere; memory kPa
    ratio,          // bare
    rotation,       // bare turns per minute; memory the same
    time,           // bare s
    number          // a bare number without unit: exponents, counts of money
};

// What a dimension is called in a sentence: "a length".
std::string_view name_of(Dimension dimension);
// The units that may stand behind it, commonest first, for a sentence: "mm, in, um, cm, m, thou, ft".
std::string units_of(Dimension dimension);
// The unit of a bare number, for a sentence: "deg"; for lengths that of `units`.
std::string_view bare_unit_of(Dimension dimension, LengthUnit units);

// Memory value of a bare number.
double from_bare(double value, Dimension dimension, LengthUnit units);
// The bare number of a memory value; the inverse of from_bare.
double to_bare(double value, Dimension dimension, LengthUnit units);

// A number and perhaps its unit, in memory units, or a sentence that says what would be right. Takes spaces
// where people put them, a decimal comma, fractions (`9/16`, `1-9/16`, `1 9/16`), quote marks for inch and
// foot; a text without unit is a bare number. Never NaN or infinite.
using Parsed = tl::expected<double, std::string>;
Parsed parse_quantity(std::string_view text, Dimension dimension, LengthUnit units);

}  // namespace seatwright::job
