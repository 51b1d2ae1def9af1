// From random words to normals, directions and radii, in float, many at once: plain arithmetic in a fixed
// order, so that the bits do not hang on the vector width. Against the same transform in double precision the
// normals are right to 3e-6; the largest is 6.66 standard deviations (tests/forecast/draw_test.cpp).
#pragma once

#include <bit>
#include <cmath>

#include "seatwright/forecast/philox.hpp"

namespace seatwright::forecast {

using Lane = std::array<float, lanes>;
using WordLane = std::array<std::uint32_t, lanes>;

// Even in (0, 1): 31 bits.
inline float even_of(std::uint32_t word) {
    return (static_cast<float>(static_cast<std::int32_t>(word >> 1)) + 0.5F) * 0x1p-31F;
}

// ln u, 0 < u ≤ 1, of which `rest` is 1 − u, exact where u is near 1: u = 2^e·m, m in [√½, √2); polynomial of
// Cephes' logf (Moshier), 1e-7 relative.
inline float log_of(float u, float rest) {
    const auto bits = std::bit_cast<std::uint32_t>(u) + 0x4AFB0DU;  // 1 − √½ in the mantissa
    const auto exponent = static_cast<float>(static_cast<std::int32_t>(bits >> 23) - 127);
    const float m = std::bit_cast<float>((bits & 0x7FFFFFU) + 0x3F3504F3U);
    const float x = exponent == 0 ? -rest : m - 1;
    float y = 7.0376836292e-2F;
    y = y * x - 1.1514610310e-1F;
    y = y * x + 1.1676998740e-1F;
    y = y * x - 1.2420140846e-1F;
    y = y * x + 1.4249322787e-1F;
    y = y * x - 1.6668057665e-1F;
    y = y * x + 2.0000714765e-1F;
    y = y * x - 2.4999993993e-1F;
    y = y * x + 3.3333331174e-1F;
    y = y * x * x * x;
    y = y - 2.12194440e-4F * exponent;
    y = y - 0.5F * x * x;
    return x + y + 0.693359375F * exponent;
}

// sin and cos of 2π·word/2^32.
inline void turn_of(std::uint32_t word, float& sine, float& cosine) {
    const std::uint32_t quarter = (word + 0x20000000U) >> 30;
    const auto rest = static_cast<float>(static_cast<std::int32_t>(word - (quarter << 30)));
    const float x = rest * (6.2831853071795864769F * 0x1p-32F), z = x * x;
    const float s = x + x * z * (-1.6666654611e-1F + z * (8.3321608736e-3F - z * 1.9515295891e-4F));
    const float c =
        1 - 0.5F * z +
        z * z * (4.166664568298827e-2F + z * (-1.388731625493765e-3F + z * 2.443315711809948e-5F));
    const bool swapped = (quarter & 1U) != 0;
    const float u = swapped ? c : s, v = swapped ? s : c;
    sine = (quarter & 2U) != 0 ? -u : u;
    cosine = ((quarter + 1U) & 2U) != 0 ? -v : v;
}

// Two normals of two words (Box and Muller 1958).
inline void normal_pair(std::uint32_t radius, std::uint32_t turn, float& x, float& y) {
    const float r = std::sqrt(-2 * log_of(even_of(radius), even_of(~radius)));
    float sine = 0, cosine = 0;
    turn_of(turn, sine, cosine);
    x = r * cosine;
    y = r * sine;
}

// Even over the disc of radius 1.
inline void disc_place(std::uint32_t radius, std::uint32_t turn, float& x, float& y) {
    const float r = std::sqrt(even_of(radius));
    float sine = 0, cosine = 0;
    turn_of(turn, sine, cosine);
    x = r * cosine;
    y = r * sine;
}

// The same of many.
inline void normals(const WordLane& radius, const WordLane& turn, Lane& x, Lane& y) {
    for (std::size_t i = 0; i < lanes; ++i) normal_pair(radius[i], turn[i], x[i], y[i]);
}

inline void in_disc(const WordLane& radius, const WordLane& turn, Lane& x, Lane& y) {
    for (std::size_t i = 0; i < lanes; ++i) disc_place(radius[i], turn[i], x[i], y[i]);
}

inline void directions_of(const WordLane& turn, Lane& x, Lane& y) {
    for (std::size_t i = 0; i < lanes; ++i) turn_of(turn[i], y[i], x[i]);
}

}  // namespace seatwright::forecast
