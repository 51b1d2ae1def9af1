#include "seatwright/brought/scan_dots.hpp"

#include <utility>

namespace seatwright::brought {

using namespace papers;
namespace {

constexpr std::size_t most_dots = 1500;  // of a kind in one drawing
constexpr double dot = 0.22;             // mm of paper

// At most so many, evenly taken.
std::vector<Vec2> fewer(std::vector<Vec2> all) {
    if (all.size() <= most_dots) return all;
    std::vector<Vec2> out;
    out.reserve(most_dots);
    for (std::size_t i = 0; i < most_dots; ++i) out.push_back(all[i * all.size() / most_dots]);
    return out;
}

}  // namespace

void draw_dots(Drawing& drawing, std::vector<Vec2> at, Ink ink) {
    // Lines of no length with round ends.
    for (const auto& p : fewer(std::move(at))) drawing.polyline({p, p}, {ink, dot, {}});
}

}  // namespace seatwright::brought
