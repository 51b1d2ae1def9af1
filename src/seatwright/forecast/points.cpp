#include "seatwright/forecast/points.hpp"

#include <boost/random/sobol.hpp>

#include "seatwright/base/numerics/normal.hpp"

namespace seatwright::forecast {
namespace {

std::uint32_t mixed(std::uint64_t key) {  // splitmix64's finish (Steele, Lea, Flood 2014)
    key += 0x9e3779b97f4a7c15ULL;
    key = (key ^ (key >> 30)) * 0xbf58476d1ce4e5b9ULL;
    key = (key ^ (key >> 27)) * 0x94d049bb133111ebULL;
    return static_cast<std::uint32_t>((key ^ (key >> 31)) >> 32);
}

std::uint32_t reversed(std::uint32_t x) {
    x = ((x & 0x55555555U) << 1) | ((x >> 1) & 0x55555555U);
    x = ((x & 0x33333333U) << 2) | ((x >> 2) & 0x33333333U);
    x = ((x & 0x0f0f0f0fU) << 4) | ((x >> 4) & 0x0f0f0f0fU);
    return __builtin_bswap32(x);
}

// A nested uniform scramble: each digit turned by a hash of the digits before it.
std::uint32_t scrambled(std::uint32_t x, std::uint32_t seed) {
    x = reversed(x);
    x += seed;
    x ^= x * 0x6c50b47cU;
    x ^= x * 0xb82f1e52U;
    x ^= x * 0xc7afe638U;
    x ^= x * 0x8d22f6e6U;
    return reversed(x);
}

}  // namespace

std::vector<double> even_points(int dimensions, std::size_t count, int scramble, std::uint64_t seed) {
    const auto wide = static_cast<std::size_t>(dimensions);
    std::vector<double> out(wide * count);
    if (dimensions == 0) return out;
    boost::random::sobol sequence(wide);
    std::vector<std::uint32_t> keys(wide);
    for (std::size_t d = 0; d < wide; ++d)
        keys[d] = mixed(seed * 1000003 + static_cast<std::uint64_t>(scramble) * 8191 + d + 1);
    for (std::size_t i = 0; i < count; ++i)
        for (std::size_t d = 0; d < wide; ++d) {
            // The library leaves out the sequence's first point, the origin; without it no slice is filled.
            const auto raw = i == 0 ? 0U : static_cast<std::uint32_t>(sequence() >> 32);
            out[i * wide + d] = (scrambled(raw, keys[d]) + 0.5) * 0x1p-32;
        }
    return out;
}

std::vector<double> normal_points(int dimensions, std::size_t count, int scramble, std::uint64_t seed) {
    auto out = even_points(dimensions, count, scramble, seed);
    for (double& x : out) x = numerics::normal_quantile(x);
    return out;
}

}  // namespace seatwright::forecast
