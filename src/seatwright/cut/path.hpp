// Shortest open path through the seats of one group, between chosen or free ends.
//
// Points on one line: closed form. Up to 12 points elsewhere: dynamic programming over subsets (Held and
// Karp, J. SIAM 10 (1962)), exact. Beyond: sorted along the row, improved by 2-opt and by moving single
// points, with the minimum spanning tree as a lower bound. Lengths mm in the plane.
#pragma once

#include <vector>

#include "seatwright/base/vec.hpp"

namespace seatwright::cut {

inline constexpr std::size_t exact_points = 12;

struct OpenPath {
    std::vector<std::size_t> order;  // indices into the points given
    double length = 0;
    double lower_bound = 0;  // equal to length when the path is proven shortest
};

// Shortest path with both ends free. Deterministic.
OpenPath shortest_path(const std::vector<Vec2>& points);

// For each pair of ends the shortest path that starts in one and finishes in the other.
class EndPaths {
  public:
    explicit EndPaths(std::vector<Vec2> points);
    std::size_t size() const { return points_.size(); }
    // Length from `first` to `last` through all points; infinity when this pair is not offered (first = last
    // with several points; beyond exact_points all but the best path's own ends).
    double length(std::size_t first, std::size_t last) const { return lengths_[first * size() + last]; }
    std::vector<std::size_t> order(std::size_t first, std::size_t last) const;
    // No path with any ends is shorter.
    double lower_bound() const { return lower_bound_; }

  private:
    void on_a_line(const std::vector<std::size_t>& sorted);
    void by_subsets();
    void by_improvement();
    std::vector<std::size_t> line_order(std::size_t first, std::size_t last) const;

    enum class Way { line, subsets, improvement };
    std::vector<Vec2> points_;
    std::vector<double> lengths_;
    double lower_bound_ = 0;
    Way way_ = Way::line;
    std::vector<std::size_t> sorted_;             // along the line, or the improved path
    std::vector<std::vector<signed char>> from_;  // per first point: predecessor by subset and last point
};

// Length of the minimum spanning tree: no path through all points is shorter.
double spanning_tree_length(const std::vector<Vec2>& points);

}  // namespace seatwright::cut
