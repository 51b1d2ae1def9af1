// Figures in sentences: a number in memory units that knows how it is written beside millimetres and beside
// inches. Decimals are those of its measure, so one figure reads alike wherever it stands.
#pragma once

#include <string>
#include <string_view>

#include "seatwright/base/units.hpp"

namespace seatwright {

enum class Style {
    fixed,     // so many decimals
    signed_,   // the same with a plus, and no unit behind: a trim as a control shows it
    up,        // so many decimals, rounded up: what would do
    digits,    // so many digits that count, no noughts behind
    exponent,  // so many decimals before a power of ten
    at_most,   // so many digits that count, rounded down: a demand that must not loosen, never nought
    angle,     // two decimals, four where two would not say it
    mass       // three digits of kg, beside inches with lb in brackets
};

// How a measure is written beside one of the two length units: value / unit_size, then the unit's name.
struct Written {
    std::string_view unit;
    double unit_size = 1;  // in memory units
    int decimals = 0;      // digits, where the style counts digits
};

struct Measure {
    Written metric, customary;
    std::string_view key;  // behind a value's name in JSON: "_mm", "_deg"
    double key_size = 1;   // memory units in one of JSON's
    Style style = Style::fixed;
};

struct Figure {
    const Measure* measure = nullptr;
    double value = 0;
    int decimals = -1;  // other than the measure's own
    friend bool operator==(const Figure&, const Figure&) = default;
};

Figure as_length(double mm);        // sizes and positions: "0.310 mm", "0.0122 in"
Figure as_length_up(double mm);     // what would do: the same, rounded up
Figure as_length_below(double mm);  // a demand, two digits rounded down: "0.0012 mm"
Figure as_trim(double mm);          // "+0.0350"
Figure as_depth(double mm);         // how far down, by eye: "20.3 mm", "0.80 in"
Figure as_place(double mm);         // on the fixture and the table: "447.00 mm", "17.598 in"
Figure as_fine(double mm);          // what is judged: "0.0123 mm", "0.00048 in"
Figure as_volume(double mm3);       // "0.50 cm3"
Figure as_angle(double rad);        // "19.50 deg", four decimals where two would not say it
Figure as_form_angle(double rad);   // of a facet: "30 deg", "43.5 deg"
Figure as_degrees(double rad, int decimals);
Figure as_mass(double kg);                                    // "21 kg", beside inches "21 kg (46 lb)"
Figure as_vacuum(double kpa);                                 // "81.3 kPa", "24.0 inHg"
Figure as_surface_speed(double m_per_min, int decimals = 0);  // "31 m/min", "102 ft/min"
Figure as_rapid(double mm_per_s);                             // "10.2 m/min", "400 in/min"
Figure as_acceleration(double mm_per_s2);                     // "1.0 m/s2", "39 in/s2"
Figure as_torque(double newton_mm, int decimals = 1);         // "4.2 N·m", "3.1 lbf·ft"
Figure as_pressure(double mpa, int decimals = 0);             // "310 MPa", "44962 psi"
Figure as_percent(double percent, int decimals);              // "99.123 %"
Figure as_number(double value, int decimals = 0);             // "1.84"
Figure as_digits(double value, int digits);                   // "0.034", no noughts behind
Figure as_power_of_ten(double value, int decimals);           // "1.2e-05"

// Degrees behind a figure: " deg" where it is read at a terminal and typed into a file, "°" on a page.
enum class Degrees { word, sign };

// "0.310 mm": the figure with its unit, as it stands in a sentence.
std::string written(const Figure& figure, LengthUnit unit, Degrees degrees = Degrees::word);

}  // namespace seatwright
