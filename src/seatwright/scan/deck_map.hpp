// Where the deck is and where it is open: how many of its points lie in each small square of it, and the
// edges of its openings.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "seatwright/base/vec.hpp"

namespace seatwright::scan {

// In the deck's frame, mm.
class DeckMap {
  public:
    DeckMap() = default;
    // `density`: points a square millimetre of the deck; squares are so large that several lie in each.
    DeckMap(const Vec2& low, const Vec2& high, double density);

    // Number of the square that holds the place; none beyond the map.
    std::optional<std::uint32_t> square_of(double x, double y) const {
        const double u = (x - low_.x()) * in_one_, v = (y - low_.y()) * in_one_;
        if (!(u >= 0 && u < wide_ && v >= 0 && v < tall_)) return std::nullopt;
        return static_cast<std::uint32_t>(v) * static_cast<std::uint32_t>(wide_) +
               static_cast<std::uint32_t>(u);
    }
    // A point in each of these squares.
    void add(const std::vector<std::uint32_t>& squares) {
        for (const auto k : squares) ++counts_[k];
    }

    bool empty() const { return counts_.empty(); }
    double cell() const { return cell_; }
    int wide() const { return wide_; }
    int tall() const { return tall_; }
    std::uint32_t count(int x, int y) const { return counts_[at(x, y)]; }
    std::size_t at(int x, int y) const {
        return static_cast<std::size_t>(y) * static_cast<std::size_t>(wide_) + static_cast<std::size_t>(x);
    }
    Vec2 middle(double x, double y) const { return low_ + cell_ * Vec2(x + 0.5, y + 0.5); }
    // Of the square that holds the place; -1 beyond the map.
    int column(double x) const;
    int row(double y) const;

  private:
    Vec2 low_ = Vec2::Zero();
    double cell_ = 1, in_one_ = 1;
    int wide_ = 0, tall_ = 0;
    std::vector<std::uint32_t> counts_;
};

struct Opening {
    std::vector<std::size_t> places;  // that lie in it
    std::vector<Vec2> outline;        // corners in order, counter-clockwise
    double area = 0, u = 0;           // mm²; of a place of the edge, mm
};

// The openings that hold any of these places, each once. One that goes on to the deck's own edge, or whose
// edge is not seen all round, is none.
std::vector<Opening> openings_of(const DeckMap& map, const std::vector<Vec2>& places);

}  // namespace seatwright::scan
