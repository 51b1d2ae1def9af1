// Random numbers from a counter: Philox4x32-10 (Salmon, Moraes, Dror and Shaw, SC11, 2011), so that any head
// of any draw can be made by itself, in any order, by any thread, with the same bits. For many counters at
// once, in vectors as wide as the machine has; integers only, so that no vector width changes a bit.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <vector>

namespace seatwright::forecast {

inline constexpr std::size_t lanes = 128;  // heads drawn together

struct Words {
    alignas(64) std::array<std::uint32_t, lanes> a, b, c, d;
};

// Of the counters (first + i, group, 0), i = 0 … lanes − 1, under the key `seed`.
void philox(std::uint64_t seed, std::uint64_t first, std::uint32_t group, Words& out);

// For tests: whether each vector width this machine has gives what plain numbers give.
std::vector<bool> philox_ways_agree(std::uint64_t seed, std::uint64_t first, std::uint32_t group);

// One counter and key as they stand: for tests against the published answers.
inline std::array<std::uint32_t, 4> philox_one(std::array<std::uint32_t, 4> counter,
                                               std::array<std::uint32_t, 2> key) {
    for (int round = 0; round < 10; ++round) {
        const std::uint64_t p0 = 0xD2511F53ULL * counter[0], p1 = 0xCD9E8D57ULL * counter[2];
        counter = {static_cast<std::uint32_t>(p1 >> 32) ^ counter[1] ^ key[0], static_cast<std::uint32_t>(p1),
                   static_cast<std::uint32_t>(p0 >> 32) ^ counter[3] ^ key[1],
                   static_cast<std::uint32_t>(p0)};
        key[0] += 0x9E3779B9;
        key[1] += 0xBB67AE85;
    }
    return counter;
}

}  // namespace seatwright::forecast
