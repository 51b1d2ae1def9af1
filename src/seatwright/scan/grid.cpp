#include "seatwright/scan/grid.hpp"

namespace seatwright::scan {

Grid::Grid(const std::vector<Point>& points, double cell) : cell_(cell) {
    constexpr double most_cells = 8e6;
    Vec3 high = Vec3::Constant(-1e30);
    low_ = -high;
    for (const auto& p : points) {
        low_ = low_.cwiseMin(p.vec());
        high = high.cwiseMax(p.vec());
    }
    if (points.empty()) low_ = high = Vec3::Zero();
    const auto cells = [&] {
        double n = 1;
        for (int a = 0; a < 3; ++a) n *= std::floor((high[a] - low_[a]) / cell_) + 1;
        return n;
    };
    while (cells() > most_cells) cell_ *= 1.25;
    for (int a = 0; a < 3; ++a)
        size_[static_cast<std::size_t>(a)] = static_cast<int>(std::floor((high[a] - low_[a]) / cell_)) + 1;
    std::vector<std::uint32_t> cell_of(points.size());
    begins_.assign(cell_number(0, 0, size_[2]) + 1, 0);
    for (std::size_t i = 0; i < points.size(); ++i) {
        const Vec3 d = (points[i].vec() - low_) / cell_;
        const auto at = [&](int a) {
            return std::min(static_cast<int>(d[a]), size_[static_cast<std::size_t>(a)] - 1);
        };
        cell_of[i] = static_cast<std::uint32_t>(cell_number(at(0), at(1), at(2)));
        ++begins_[cell_of[i] + 1];
    }
    for (std::size_t c = 1; c < begins_.size(); ++c) begins_[c] += begins_[c - 1];
    sorted_.resize(points.size());
    auto next = begins_;
    for (std::size_t i = 0; i < points.size(); ++i) sorted_[next[cell_of[i]]++] = points[i];
}

}  // namespace seatwright::scan
