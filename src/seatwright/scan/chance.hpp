// Numbers that look drawn and are always the same: of an index, a seed of its own for each use.
#pragma once

#include <cstddef>
#include <cstdint>

namespace seatwright::scan {

inline std::uint64_t drawn_of(std::uint64_t index, std::uint64_t use) {
    std::uint64_t z = index * 0x9e3779b97f4a7c15ULL + use * 0xd1b54a32d192ed03ULL + 0x632be59bd9b4e019ULL;
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9ULL;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebULL;
    return z ^ (z >> 31);
}

inline std::size_t drawn_below(std::uint64_t index, std::uint64_t use, std::size_t bound) {
    return static_cast<std::size_t>(drawn_of(index, use) % bound);
}

}  // namespace seatwright::scan
