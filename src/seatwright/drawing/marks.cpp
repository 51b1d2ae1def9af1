#include "seatwright/drawing/marks.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

namespace seatwright::drawing {
namespace {

// Sizes that differ by less are one: what is drawn twice, what is alike.
bool alike(double a, double b) {
    return std::abs(a - b) <= 1e-3 + 1e-4 * std::max(a, b);
}

bool alike(const Ring& a, const Ring& b) {
    return alike(a.a, b.a) && alike(a.b, b.b);
}

bool alike(const Mark& a, const Mark& b) {
    return a.rings.size() == b.rings.size() &&
           std::equal(a.rings.begin(), a.rings.end(), b.rings.begin(),
                      [](const Ring& x, const Ring& y) { return alike(x, y); });
}

std::vector<Mark> concentric(const std::vector<Ring>& rings, double near) {
    std::vector<Mark> out;
    std::map<std::pair<long long, long long>, std::vector<std::size_t>> grid;
    constexpr double most = 1e15;
    for (const auto& ring : rings) {
        const auto cell = [&](double v) {
            return static_cast<long long>(std::floor(std::clamp(v / near, -most, most)));
        };
        const auto cx = cell(ring.centre.x()), cy = cell(ring.centre.y());
        std::optional<std::size_t> found;
        for (int k = 0; k < 9 && !found; ++k) {
            const auto at = grid.find({cx + k % 3 - 1, cy + k / 3 - 1});
            if (at == grid.end()) continue;
            for (const auto m : at->second)
                if ((out[m].at - ring.centre).norm() <= near) found = m;
        }
        if (!found) {
            found = out.size();
            out.push_back({ring.centre, {}, 0, 0, false});
            grid[{cx, cy}].push_back(*found);
        }
        auto& mark = out[*found];
        mark.spread = std::max(mark.spread, (mark.at - ring.centre).norm());
        if (std::any_of(mark.rings.begin(), mark.rings.end(),
                        [&](const Ring& r) { return alike(r, ring); })) {
            mark.drawn_twice = true;
        } else {
            mark.rings.push_back(ring);
        }
    }
    for (auto& mark : out) {
        std::sort(mark.rings.begin(), mark.rings.end(),
                  [](const Ring& a, const Ring& b) { return a.a < b.a; });
        if (mark.spread == 0) continue;
        Vec2 mean = Vec2::Zero();
        for (const auto& ring : mark.rings) mean += ring.centre / static_cast<double>(mark.rings.size());
        mark.at = mean;
    }
    return out;
}

// Whether `bore` is the same leaning bore as `seat`, seen further down its axis: like ratio, like direction,
// shifted along its shorter axis.
bool same_axis(const Ring& seat, const Ring& bore) {
    constexpr double near_ratio = 0.01, near_turn = 0.03;
    if (seat.round() || bore.round() || !(bore.a < seat.a)) return false;
    if (std::abs(seat.b / seat.a - bore.b / bore.a) > near_ratio) return false;
    if (std::abs(seat.along.dot(bore.along)) < 1 - near_turn * near_turn) return false;
    const Vec2 off = bore.centre - seat.centre;
    return std::abs(off.dot(seat.along)) <= near_turn * off.norm() + near_centre;
}

// Marks by X, for what lies within a circle.
class ByX {
  public:
    explicit ByX(const std::vector<Mark>& marks) {
        for (std::size_t m = 0; m < marks.size(); ++m) order_.emplace_back(marks[m].at.x(), m);
        std::sort(order_.begin(), order_.end());
    }
    template <class See>
    void within(double low, double high, const See& see) const {
        for (auto at = std::lower_bound(order_.begin(), order_.end(), std::pair{low, std::size_t{0}});
             at != order_.end() && at->first <= high; ++at)
            see(at->second);
    }

  private:
    std::vector<std::pair<double, std::size_t>> order_;
};

// Small leaning rings that stand alone, taken to the large ones whose bore they are.
void take_shifted(Marks& all) {
    const ByX by_x(all.marks);
    std::vector<bool> taken(all.marks.size());
    std::vector<std::vector<Shifted>> shifted(all.marks.size());
    for (std::size_t m = 0; m < all.marks.size(); ++m) {
        const Ring& seat = all.marks[m].rings.back();
        if (seat.round()) continue;
        by_x.within(seat.centre.x() - 2 * seat.a, seat.centre.x() + 2 * seat.a, [&](std::size_t other) {
            const Mark& bore = all.marks[other];
            if (other == m || taken[other] || bore.rings.size() != 1 || 1.8 * bore.largest() > 2 * seat.a)
                return;
            const Vec2 off = bore.at - all.marks[m].at;
            if (off.norm() > 2 * seat.a || !same_axis(seat, bore.rings.front())) return;
            shifted[m].push_back({bore.rings.front(), off});
            taken[other] = true;
        });
    }
    std::vector<Mark> kept;
    for (std::size_t m = 0; m < all.marks.size(); ++m) {
        if (taken[m]) continue;
        kept.push_back(std::move(all.marks[m]));
        all.shifted.push_back(std::move(shifted[m]));
    }
    all.marks = std::move(kept);
}

// A ring with the centres of two other marks within it bounds something; no seat or hole has holes within it.
void take_outlines(Marks& all) {
    const ByX by_x(all.marks);
    std::vector<std::vector<Ring>> left(all.marks.size());
    for (std::size_t m = 0; m < all.marks.size(); ++m)
        for (const auto& ring : all.marks[m].rings) {
            Outline outline{ring, {}};
            by_x.within(ring.centre.x() - ring.a, ring.centre.x() + ring.a, [&](std::size_t other) {
                if ((all.marks[other].at - ring.centre).norm() < ring.b) outline.within.push_back(other);
            });
            const auto others = std::count_if(outline.within.begin(), outline.within.end(),
                                              [&](std::size_t other) { return other != m; });
            if (others >= 2) {
                all.outlines.push_back(std::move(outline));
            } else {
                left[m].push_back(ring);
            }
        }
    std::vector<std::size_t> now(all.marks.size(), all.marks.size());
    std::vector<Mark> kept;
    std::vector<std::vector<Shifted>> shifted;
    for (std::size_t m = 0; m < all.marks.size(); ++m) {
        if (left[m].empty()) continue;
        now[m] = kept.size();
        all.marks[m].rings = std::move(left[m]);
        kept.push_back(std::move(all.marks[m]));
        shifted.push_back(std::move(all.shifted[m]));
    }
    for (auto& outline : all.outlines) {
        std::vector<std::size_t> within;
        for (const auto m : outline.within)
            if (now[m] < kept.size()) within.push_back(now[m]);
        outline.within = std::move(within);
    }
    all.marks = std::move(kept);
    all.shifted = std::move(shifted);
    std::stable_sort(all.outlines.begin(), all.outlines.end(),
                     [](const Outline& a, const Outline& b) { return a.ring.a < b.ring.a; });
}

void group(Marks& all) {
    std::vector<std::size_t> first;  // a mark of each group
    for (std::size_t m = 0; m < all.marks.size(); ++m) {
        const auto like = std::find_if(first.begin(), first.end(),
                                       [&](std::size_t f) { return alike(all.marks[f], all.marks[m]); });
        all.marks[m].group = static_cast<std::size_t>(like - first.begin());
        if (like == first.end()) first.push_back(m);
    }
    all.groups = first.size();
}

}  // namespace

Checked<Marks> marks_of(const View& view, double near, const std::string& file) {
    Marks out;
    out.marks = concentric(view.rings, near);
    if (out.marks.size() > most_marks)
        return tl::unexpected(
            Faults{{file, 0, "",
                    fmt::format(
                        "{} circles stand about centres of their own; a head has far fewer than {}: save the "
                        "view of its deck alone",
                        out.marks.size(), most_marks)}});
    take_shifted(out);
    take_outlines(out);
    group(out);
    return out;
}

}  // namespace seatwright::drawing
