// The words of one line of RS-274/NGC sorted by modal group, one of a group a line and a letter once a line
// (NISTIR 6556, 3.3.2 and table 4). What a seat program has no use for is refused.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <tl/expected.hpp>

#include "seatwright/cut/words.hpp"

namespace seatwright::cut {

// G and M numbers, and those after T and H, are whole within this (NISTIR 6556, 3.3.2.1).
inline constexpr double whole_tolerance = 1e-4;

// Modal groups, by their numbers in NISTIR 6556 table 4.
enum GGroup : std::size_t {
    g_once = 0,
    g_motion = 1,
    g_plane = 2,
    g_distance = 3,
    g_feed_mode = 5,
    g_units = 6,
    g_radius = 7,
    g_length = 8,
    g_return = 10,
    g_offset = 12,
    g_groups = 13
};
enum MGroup : std::size_t { m_stopping = 4, m_change = 6, m_spindle = 7, m_groups = 8 };

struct Block {
    std::array<int, g_groups> g{};  // -1 = none of that group
    std::array<int, m_groups> m{};
    std::optional<double> f, h, p, r, s, t, x, y, z;
    bool axes() const { return x || y || z; }
};

// Error: a sentence about this line.
tl::expected<Block, std::string> block_of(const ProgramLine& line);

}  // namespace seatwright::cut
