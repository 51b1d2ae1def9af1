#include "seatwright/cut/bending.hpp"

#include "seatwright/base/fault.hpp"
#include "seatwright/base/units.hpp"

namespace seatwright::cut {

namespace {
double second_moment(double diameter) {
    return pi / 64 * diameter * diameter * diameter * diameter;
}
}  // namespace

Bending bend(double diameter, double free_length, double force, double modulus) {
    require(diameter > 0 && free_length > 0 && modulus > 0, "a pilot has size and modulus");
    const double flexural = modulus * second_moment(diameter);
    Bending bending;
    bending.stiffness = 3 * flexural / (free_length * free_length * free_length);
    bending.deflection = force / bending.stiffness;
    bending.slope = force * free_length * free_length / (2 * flexural);
    bending.stress = 32 * force * free_length / (pi * diameter * diameter * diameter);
    bending.slenderness = free_length / diameter;
    return bending;
}

double unbalanced_side(double side_of_one_blade, int blades) {
    return blades == 1 ? side_of_one_blade : 0;
}

double pilot_share(const Bending& bending, double float_stiffness) {
    require(float_stiffness > 0, "the float has a stiffness");
    return bending.stiffness / (bending.stiffness + float_stiffness);
}

}  // namespace seatwright::cut
