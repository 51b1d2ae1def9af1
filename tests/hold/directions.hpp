// Seeded random guide axes and reaches for the tests of setups.
#pragma once

#include <random>
#include <vector>

#include "seatwright/base/units.hpp"
#include "seatwright/base/vec.hpp"
#include "seatwright/hold/attitude.hpp"

namespace seatwright::draws {

// A uniform draw that is the same on every standard library.
inline double uniform(std::mt19937_64& random, double low, double high) {
    return low + (high - low) * (static_cast<double>(random() >> 11) * 0x1p-53);
}

inline std::vector<Vec3> axes(std::mt19937_64& random, int count, double most_deg) {
    std::vector<Vec3> out;
    for (int i = 0; i < count; ++i)
        out.push_back(
            guide_axis(rad(uniform(random, -most_deg, most_deg)), rad(uniform(random, -most_deg, most_deg))));
    return out;
}

// A range that is free, one-sided, narrow or a single angle.
inline job::Range range(std::mt19937_64& random, double most_deg) {
    const double low = rad(uniform(random, -most_deg, most_deg));
    switch (random() % 4) {
        case 0:
            return {rad(-89), rad(89)};
        case 1:
            return {low, rad(89)};
        case 2:
            return {low, low + rad(uniform(random, 0, most_deg))};
        default:
            return {low, low};
    }
}

}  // namespace seatwright::draws
