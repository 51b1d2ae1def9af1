// Points sorted into cells, so that those near a place are found at once.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <vector>

#include "seatwright/scan/cloud.hpp"

namespace seatwright::scan {

class Grid {
  public:
    // Cubes of that size; a box so large that it would have more than `most_cells` of them takes larger ones.
    Grid(const std::vector<Point>& points, double cell);

    double cell() const { return cell_; }
    const std::vector<Point>& points() const { return sorted_; }
    // Calls use(first, last) with the points of every row of cells that touches the box.
    template <class Use>
    void in_box(const Vec3& low, const Vec3& high, const Use& use) const {
        std::array<int, 3> from{}, to{};
        for (int a = 0; a < 3; ++a) {
            const auto k = static_cast<std::size_t>(a);
            from[k] = std::max(0, static_cast<int>(std::floor((low[a] - low_[a]) / cell_)));
            to[k] = std::min(size_[k] - 1, static_cast<int>(std::floor((high[a] - low_[a]) / cell_)));
            if (from[k] > to[k]) return;
        }
        for (int z = from[2]; z <= to[2]; ++z)
            for (int y = from[1]; y <= to[1]; ++y) {
                const auto row = cell_number(0, y, z);
                const auto* first = sorted_.data() + begins_[row + static_cast<std::size_t>(from[0])];
                const auto* last = sorted_.data() + begins_[row + static_cast<std::size_t>(to[0]) + 1];
                if (first != last) use(first, last);
            }
    }

  private:
    std::size_t cell_number(int x, int y, int z) const {
        return (static_cast<std::size_t>(z) * static_cast<std::size_t>(size_[1]) +
                static_cast<std::size_t>(y)) *
                   static_cast<std::size_t>(size_[0]) +
               static_cast<std::size_t>(x);
    }
    double cell_;
    Vec3 low_ = Vec3::Zero();
    std::array<int, 3> size_{1, 1, 1};
    std::vector<std::uint32_t> begins_;
    std::vector<Point> sorted_;
};

}  // namespace seatwright::scan
