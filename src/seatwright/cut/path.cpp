#include "seatwright/cut/path.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include "seatwright/base/fault.hpp"

namespace seatwright::cut {

namespace {

constexpr double no_way = std::numeric_limits<double>::infinity();
// Seats this near a common line are on it: a hundredth of the finest readout step, mm.
constexpr double line_tolerance = 1e-5;
// An improvement must shorten the path by more than rounding does, mm.
constexpr double shorter_by = 1e-9;
constexpr int improvement_rounds = 200;

double distance(const Vec2& a, const Vec2& b) {
    return (a - b).norm();
}

double path_length(const std::vector<Vec2>& points, const std::vector<std::size_t>& order) {
    double length = 0;
    for (std::size_t i = 1; i < order.size(); ++i) length += distance(points[order[i - 1]], points[order[i]]);
    return length;
}

// Direction of the two points furthest from each other, by two sweeps.
Vec2 row_direction(const std::vector<Vec2>& points) {
    const auto furthest = [&](const Vec2& from) {
        return *std::max_element(points.begin(), points.end(), [&](const Vec2& a, const Vec2& b) {
            return distance(a, from) < distance(b, from);
        });
    };
    const Vec2 one = furthest(points.front());
    const Vec2 along = furthest(one) - one;
    return along.norm() > 0 ? Vec2(along.normalized()) : Vec2(1, 0);
}

std::vector<std::size_t> sorted_along(const std::vector<Vec2>& points, const Vec2& along) {
    std::vector<std::size_t> order(points.size());
    std::iota(order.begin(), order.end(), 0);
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        return points[a].dot(along) < points[b].dot(along);
    });
    // The same row from its low-X end first, whichever way the direction came out.
    if (points[order.front()].x() > points[order.back()].x()) std::reverse(order.begin(), order.end());
    return order;
}

bool collinear(const std::vector<Vec2>& points, const Vec2& along) {
    return std::all_of(points.begin(), points.end(), [&](const Vec2& p) {
        const Vec2 off = p - points.front();
        return std::abs(off.x() * along.y() - off.y() * along.x()) <= line_tolerance;
    });
}

// One pass of 2-opt: turn a stretch round where that shortens the path. Open ends may be turned too.
bool turn_stretches(const std::vector<Vec2>& points, std::vector<std::size_t>& order) {
    bool better = false;
    const std::size_t n = order.size();
    for (std::size_t i = 0; i + 1 < n; ++i)
        for (std::size_t j = i + 1; j < n; ++j) {
            double gain = 0;
            if (i > 0)
                gain += distance(points[order[i - 1]], points[order[i]]) -
                        distance(points[order[i - 1]], points[order[j]]);
            if (j + 1 < n)
                gain += distance(points[order[j]], points[order[j + 1]]) -
                        distance(points[order[i]], points[order[j + 1]]);
            if (gain <= shorter_by) continue;
            std::reverse(order.begin() + static_cast<std::ptrdiff_t>(i),
                         order.begin() + static_cast<std::ptrdiff_t>(j) + 1);
            better = true;
        }
    return better;
}

// One pass of moving single points to a better place.
bool move_points(const std::vector<Vec2>& points, std::vector<std::size_t>& order) {
    double length = path_length(points, order);
    bool better = false;
    for (std::size_t i = 0; i < order.size(); ++i)
        for (std::size_t j = 0; j < order.size(); ++j) {
            std::vector<std::size_t> tried = order;
            const std::size_t point = tried[i];
            tried.erase(tried.begin() + static_cast<std::ptrdiff_t>(i));
            tried.insert(tried.begin() + static_cast<std::ptrdiff_t>(j), point);
            const double moved = path_length(points, tried);
            if (moved >= length - shorter_by) continue;
            order = std::move(tried);
            length = moved;
            better = true;
        }
    return better;
}

std::vector<std::size_t> improved(const std::vector<Vec2>& points, std::vector<std::size_t> order) {
    for (int round = 0; round < improvement_rounds; ++round) {
        const bool turned = turn_stretches(points, order);
        const bool moved = move_points(points, order);
        if (!turned && !moved) break;
    }
    return order;
}

// Held and Karp from one first point: best length and predecessor for every subset and last point.
struct Subsets {
    std::vector<double> length;
    std::vector<signed char> from;
};
Subsets subsets_from(const std::vector<Vec2>& points, std::size_t first) {
    const std::size_t n = points.size(), all = std::size_t{1} << n;
    std::vector<double> between(n * n);
    for (std::size_t a = 0; a < n; ++a)
        for (std::size_t b = 0; b < n; ++b) between[a * n + b] = distance(points[a], points[b]);
    Subsets table{std::vector<double>(all * n, no_way), std::vector<signed char>(all * n, -1)};
    table.length[(std::size_t{1} << first) * n + first] = 0;
    for (std::size_t set = 1; set < all; ++set) {
        if (!(set >> first & 1)) continue;
        for (std::size_t last = 0; last < n; ++last) {
            const double so_far = table.length[set * n + last];
            if (so_far == no_way) continue;
            for (std::size_t next = 0; next < n; ++next) {
                if (set >> next & 1) continue;
                const std::size_t at = (set | std::size_t{1} << next) * n + next;
                const double length = so_far + between[last * n + next];
                if (length >= table.length[at]) continue;
                table.length[at] = length;
                table.from[at] = static_cast<signed char>(last);
            }
        }
    }
    return table;
}

}  // namespace

double spanning_tree_length(const std::vector<Vec2>& points) {
    if (points.empty()) return 0;
    std::vector<double> nearest(points.size(), no_way);
    std::vector<char> in(points.size(), 0);
    nearest[0] = 0;
    double total = 0;
    for (std::size_t added = 0; added < points.size(); ++added) {
        std::size_t best = points.size();
        for (std::size_t i = 0; i < points.size(); ++i)
            if (!in[i] && (best == points.size() || nearest[i] < nearest[best])) best = i;
        in[best] = 1;
        total += nearest[best];
        for (std::size_t i = 0; i < points.size(); ++i)
            if (!in[i]) nearest[i] = std::min(nearest[i], distance(points[i], points[best]));
    }
    return total;
}

EndPaths::EndPaths(std::vector<Vec2> points) : points_(std::move(points)) {
    require(!points_.empty(), "a group has a seat");
    lengths_.assign(size() * size(), no_way);
    const Vec2 along = row_direction(points_);
    sorted_ = sorted_along(points_, along);
    if (collinear(points_, along))
        on_a_line(sorted_);
    else if (size() <= exact_points)
        by_subsets();
    else
        by_improvement();
}

void EndPaths::on_a_line(const std::vector<std::size_t>& sorted) {
    way_ = Way::line;
    const Vec2 low = points_[sorted.front()], high = points_[sorted.back()];
    const double row = distance(low, high);
    lower_bound_ = row;
    for (std::size_t a = 0; a < size(); ++a)
        for (std::size_t b = 0; b < size(); ++b) {
            if (a == b && size() > 1) continue;
            // Both ends of the row must be visited: out to one, along the whole row, back to b.
            lengths_[a * size() + b] = row + std::min(distance(points_[a], low) + distance(high, points_[b]),
                                                      distance(points_[a], high) + distance(low, points_[b]));
        }
}

std::vector<std::size_t> EndPaths::line_order(std::size_t first, std::size_t last) const {
    std::vector<std::size_t> row = sorted_;
    const Vec2 low = points_[row.front()], high = points_[row.back()];
    const double upwards = distance(points_[first], low) + distance(high, points_[last]);
    const double downwards = distance(points_[first], high) + distance(low, points_[last]);
    if (downwards < upwards) std::reverse(row.begin(), row.end());
    // first, down to the row's start, over the row, past `last` to its end and back to `last`.
    const auto place = [&](std::size_t p) {
        return static_cast<std::size_t>(std::find(row.begin(), row.end(), p) - row.begin());
    };
    const std::size_t start = place(first), stop = place(last);
    std::vector<std::size_t> order;
    if (start < stop) {
        for (std::size_t i = start + 1; i-- > 0;) order.push_back(row[i]);
        for (std::size_t i = start + 1; i < stop; ++i) order.push_back(row[i]);
        for (std::size_t i = stop + 1; i < row.size(); ++i) order.push_back(row[i]);
        order.push_back(last);
        return order;
    }
    // Only for two seats in one place: from one over the whole row to the other.
    order.push_back(first);
    for (std::size_t i = 0; i < row.size(); ++i)
        if (row[i] != first && row[i] != last) order.push_back(row[i]);
    if (last != first) order.push_back(last);
    return order;
}

void EndPaths::by_subsets() {
    way_ = Way::subsets;
    const std::size_t n = size(), all = (std::size_t{1} << n) - 1;
    from_.resize(n);
    lower_bound_ = no_way;
    for (std::size_t first = 0; first < n; ++first) {
        Subsets table = subsets_from(points_, first);
        for (std::size_t last = 0; last < n; ++last) {
            if (last == first) continue;
            lengths_[first * n + last] = table.length[all * n + last];
            lower_bound_ = std::min(lower_bound_, table.length[all * n + last]);
        }
        from_[first] = std::move(table.from);
    }
}

void EndPaths::by_improvement() {
    way_ = Way::improvement;
    sorted_ = improved(points_, sorted_);
    const double length = path_length(points_, sorted_);
    lengths_[sorted_.front() * size() + sorted_.back()] = length;
    lengths_[sorted_.back() * size() + sorted_.front()] = length;
    lower_bound_ = std::min(length, spanning_tree_length(points_));
}

std::vector<std::size_t> EndPaths::order(std::size_t first, std::size_t last) const {
    if (size() == 1) return {first};
    require(length(first, last) < no_way, "the pair of ends is offered");
    if (way_ == Way::line) return line_order(first, last);
    if (way_ == Way::improvement) {
        std::vector<std::size_t> path = sorted_;
        if (path.front() != first) std::reverse(path.begin(), path.end());
        return path;
    }
    std::vector<std::size_t> path{last};
    std::size_t set = (std::size_t{1} << size()) - 1, at = last;
    while (at != first) {
        const auto before = static_cast<std::size_t>(from_[first][set * size() + at]);
        set &= ~(std::size_t{1} << at);
        at = before;
        path.push_back(at);
    }
    std::reverse(path.begin(), path.end());
    return path;
}

OpenPath shortest_path(const std::vector<Vec2>& points) {
    if (points.size() < 2) return {std::vector<std::size_t>(points.size(), 0), 0, 0};
    // The spanning tree proves most rows shortest without trying subsets.
    const std::vector<std::size_t> row = improved(points, sorted_along(points, row_direction(points)));
    const double length = path_length(points, row), tree = spanning_tree_length(points);
    if (length <= tree + shorter_by) return {row, length, length};
    const EndPaths paths(points);
    OpenPath best{row, length, paths.lower_bound()};
    for (std::size_t a = 0; a < paths.size(); ++a)
        for (std::size_t b = 0; b < paths.size(); ++b)
            if (paths.length(a, b) < best.length - shorter_by)
                best = {paths.order(a, b), paths.length(a, b), paths.lower_bound()};
    return best;
}

}  // namespace seatwright::cut
