// The pilot as a cantilever under the side force of the blades.
//
// y = F·L³/(3·E·I), slope F·L²/(2·E·I), stress 32·F·L/(π·d³) (Shigley 9e table A-9, case 1). Lengths mm,
// forces N, moduli and stresses MPa, angles rad.
#pragma once

namespace seatwright::cut {

// Steel (Shigley 9e table A-5). Pilots of carbide bend about a third as much.
inline constexpr double pilot_modulus = 207'000;
// Reversed bending that hardened tool steel endures, from memory.
inline constexpr double pilot_stress_limit = 600;
// Free length over diameter beyond which a pilot whips, from memory.
inline constexpr double pilot_slenderness_limit = 10;

struct Bending {
    double deflection = 0;
    double slope = 0;
    double stress = 0;
    double stiffness = 0;    // N/mm at the end
    double slenderness = 0;  // free length over diameter
};

// A round rod of `diameter`, held at one end, loaded by `force` at `free_length` (both > 0).
Bending bend(double diameter, double free_length, double force, double modulus = pilot_modulus);

// Side force of the whole cutter: the blades' side forces cancel unless there is only one.
double unbalanced_side(double side_of_one_blade, int blades);

// The pilot's share of a side force: it and the locked float (stiffness N/mm, > 0) give way together like two
// springs side by side.
double pilot_share(const Bending& bending, double float_stiffness);

}  // namespace seatwright::cut
