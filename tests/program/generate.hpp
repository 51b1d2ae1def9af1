// Heads, shops and ways of working drawn at random, each with readings that are true. Invented data.
#pragma once

#include <random>

#include "case.hpp"

namespace seatwright::sim {

// Two valves a cylinder in one row, all inclined alike.
Case wedge(int cylinders, double spacing, double incline_deg);
// Intakes and exhausts in two rows leaning apart.
Case pent_roof(int cylinders, double spacing, double half_angle_deg);

Case generated(std::mt19937& random, int number);

}  // namespace seatwright::sim
