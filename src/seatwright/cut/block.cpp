#include "seatwright/cut/block.hpp"

#include <fmt/format.h>

#include <cmath>

namespace seatwright::cut {

namespace {

constexpr int most_m_words = 4;
constexpr int largest_code = 99;
constexpr int no_field = -1;

int g_group(int g) {
    if (g == 4) return g_once;
    if (g == 0 || g == 1 || g == 80 || g == 82) return g_motion;
    if (g >= 17 && g <= 19) return g_plane;
    if (g == 90 || g == 91) return g_distance;
    if (g == 93 || g == 94) return g_feed_mode;
    if (g == 20 || g == 21) return g_units;
    if (g == 40) return g_radius;
    if (g == 43 || g == 49) return g_length;
    if (g == 98 || g == 99) return g_return;
    if (g >= 54 && g <= 59) return g_offset;
    return no_field;
}

int m_group(int m) {
    if (m == 0 || m == 2 || m == 30) return m_stopping;
    if (m == 6) return m_change;
    if (m >= 3 && m <= 5) return m_spindle;
    return no_field;
}

std::optional<double>* slot_of(Block& block, char letter) {
    switch (letter) {
        case 'F':
            return &block.f;
        case 'H':
            return &block.h;
        case 'P':
            return &block.p;
        case 'R':
            return &block.r;
        case 'S':
            return &block.s;
        case 'T':
            return &block.t;
        case 'X':
            return &block.x;
        case 'Y':
            return &block.y;
        case 'Z':
            return &block.z;
        default:
            return nullptr;
    }
}

// Takes a G or M word in; what is wrong with it, or nothing.
std::string take_code(Block& block, const Word& word) {
    const double nearest = std::round(word.value);
    if (word.value < 0 || nearest > largest_code || std::abs(word.value - nearest) > whole_tolerance)
        return fmt::format("{}{} is not a word of a seat program", word.letter, word.value);
    const int code = static_cast<int>(nearest);
    if (word.letter == 'M' && code == 1) return "M1 halts only where a switch says so; a halt is M0";
    const int group = word.letter == 'G' ? g_group(code) : m_group(code);
    if (group == no_field) return fmt::format("{}{} has no place in a seat program", word.letter, code);
    const auto at = static_cast<std::size_t>(group);
    int& slot = word.letter == 'G' ? block.g[at] : block.m[at];
    if (slot != no_field) return fmt::format("{0}{1} and {0}{2} on one line", word.letter, slot, code);
    slot = code;
    return "";
}

}  // namespace

tl::expected<Block, std::string> block_of(const ProgramLine& line) {
    Block block;
    block.g.fill(no_field);
    block.m.fill(no_field);
    int m_words = 0;
    for (const Word& word : line.words) {
        if (word.letter == 'G' || word.letter == 'M') {
            if (std::string fault = take_code(block, word); !fault.empty()) return tl::unexpected(fault);
            if (word.letter == 'M' && ++m_words > most_m_words)
                return tl::unexpected(std::string("more than four M words on one line"));
            continue;
        }
        std::optional<double>* slot = slot_of(block, word.letter);
        if (slot == nullptr)
            return tl::unexpected(fmt::format("the letter {} has no place in a seat program", word.letter));
        if (*slot) return tl::unexpected(fmt::format("{} twice on one line", word.letter));
        *slot = word.value;
    }
    return block;
}

}  // namespace seatwright::cut
