// Points that fill a space evenly: Sobol' sequences, each scrambled at random (Owen 1995, by hashing as Laine
// and Karras 2011 do), turned into standard normals. Several scrambles give an error from their scatter. The
// same arguments always give the same points, so that two forecasts differ by what was changed and nothing
// else.
#pragma once

#include <cstdint>
#include <vector>

namespace seatwright::forecast {

inline constexpr int scrambles = 8;

// `count` points (a power of two) of `dimensions` standard normals, one point after the other.
std::vector<double> normal_points(int dimensions, std::size_t count, int scramble, std::uint64_t seed = 0);

// The same, even in (0, 1).
std::vector<double> even_points(int dimensions, std::size_t count, int scramble, std::uint64_t seed = 0);

}  // namespace seatwright::forecast
