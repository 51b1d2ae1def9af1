// How far points scatter about a surface, others lying evenly about it.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

#include "seatwright/base/numerics/median.hpp"

namespace seatwright::scan {

struct Noise {
    double sd = 0;
    double count = 0;  // of the surface's own points within the band
    double among = 0;  // share of others among those within the band
};

// Bands are multiples of it, and it is no less than this, mm: what rounding to float leaves.
inline constexpr double least_noise = 5e-4;
inline constexpr double band_sds = 4.0;

// Of signed distances, `widest` being what is looked at at first: within a band there are the surface's
// points and evenly spread others, beside it (as wide again) the others alone. Repeated with the band at
// band_sds until it rests; the normal distribution's cut tails are put back.
inline Noise noise_of(const std::vector<double>& distances, double widest) {
    std::vector<double> sizes;
    sizes.reserve(distances.size());
    for (const double d : distances)
        if (std::abs(d) < widest) sizes.push_back(std::abs(d));
    if (sizes.empty()) return {};
    // Twice the middle size to begin with: as many points lie within it as others can be.
    constexpr double mad_to_sd = 1.4826, tails = 0.99893;  // variance left by cutting at four sd
    double sd = mad_to_sd * numerics::middle_one(sizes);
    Noise out;
    for (int i = 0; i < 8; ++i) {
        const double band = std::min(widest / 2, band_sds * std::max(sd, least_noise));
        double in = 0, squares = 0, beside = 0;
        for (const double d : sizes) {
            if (d < band) {
                ++in;
                squares += d * d;
            } else if (d < 2 * band) {
                ++beside;
            }
        }
        const double own = std::max(in - beside, 1.0);
        const double before = sd;
        sd = std::sqrt(std::max(squares - beside * band * band / 3, 0.0) / own / tails);
        out = {std::max(sd, least_noise), own, in > 0 ? std::min(1.0, beside / in) : 0};
        if (std::abs(sd - before) < 1e-4 * sd) break;
    }
    return out;
}

}  // namespace seatwright::scan
