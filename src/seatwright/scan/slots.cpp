#include "seatwright/scan/slots.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace seatwright::scan {
namespace {

constexpr double keeps = 1.0;  // mm

struct Row {
    std::vector<Slot> slots;  // along the way
    Vec2 way = Vec2::Zero();
};

// Of one kind, those that lie on one line.
std::vector<Row> rows_of(const std::vector<Slot>& all) {
    std::map<double, std::vector<Slot>> kinds;
    for (const auto& s : all) kinds[s.bore].push_back(s);
    // The way along the head: that of the two places furthest apart of the largest kind.
    Vec2 way = Vec2::UnitX();
    double far = 0;
    for (const auto& [kind, slots] : kinds)
        for (const auto& a : slots)
            for (const auto& b : slots)
                if ((b.at - a.at).norm() > far + keeps) {
                    far = (b.at - a.at).norm();
                    way = (b.at - a.at) / far;
                }
    std::vector<Row> out;
    for (const auto& [kind, slots] : kinds) {
        std::vector<Row> rows;
        for (const auto& s : slots) {
            const auto row = std::find_if(rows.begin(), rows.end(), [&](const Row& r) {
                const Vec2 d = s.at - r.slots[0].at;
                return std::abs(way.x() * d.y() - way.y() * d.x()) < 2 * keeps;
            });
            if (row != rows.end())
                row->slots.push_back(s);
            else
                rows.push_back({{s}, way});
        }
        for (auto& r : rows) {
            std::sort(r.slots.begin(), r.slots.end(),
                      [&](const Slot& a, const Slot& b) { return a.at.dot(way) < b.at.dot(way); });
            out.push_back(std::move(r));
        }
    }
    return out;
}

// The least step, if all others are whole numbers of it.
double spacing_of(const std::vector<Row>& rows) {
    double least = 1e30;
    std::size_t steps = 0;
    for (const auto& r : rows)
        for (std::size_t i = 1; i < r.slots.size(); ++i) {
            least = std::min(least, (r.slots[i].at - r.slots[i - 1].at).norm());
            ++steps;
        }
    if (steps < 2) return 0;
    for (const auto& r : rows)
        for (std::size_t i = 1; i < r.slots.size(); ++i) {
            const double d = (r.slots[i].at - r.slots[i - 1].at).norm();
            if (std::abs(d - std::round(d / least) * least) > keeps) return 0;
        }
    return least;
}

}  // namespace

std::vector<Slot> empty_slots(const std::vector<Slot>& seen) {
    const auto rows = rows_of(seen);
    constexpr double least_spacing = 25;
    const double spacing = spacing_of(rows);
    if (spacing < least_spacing) return {};
    const Row* longest = nullptr;
    for (const auto& r : rows)
        if (longest == nullptr || r.slots.size() > longest->slots.size()) longest = &r;
    if (longest == nullptr || longest->slots.size() < 3) return {};
    const Vec2 way = longest->way, from = longest->slots.front().at;
    // Which cylinder a place belongs to, its row's own shift along the head taken off.
    const auto number = [&](const Row& r, const Slot& s) {
        const double shift = std::remainder((r.slots.front().at - from).dot(way), spacing);
        return static_cast<int>(std::lround(((s.at - from).dot(way) - shift) / spacing));
    };
    int low = 0, high = 0;
    for (const auto& r : rows)
        for (const auto& s : r.slots) {
            low = std::min(low, number(r, s));
            high = std::max(high, number(r, s));
        }
    std::vector<Slot> out;
    for (const auto& r : rows) {
        if (r.slots.size() < 2) continue;
        for (int k = low; k <= high; ++k) {
            const auto stands = [&](const Slot& s) { return number(r, s) == k; };
            if (std::any_of(r.slots.begin(), r.slots.end(), stands)) continue;
            Slot empty = r.slots.front();
            empty.at += (k - number(r, r.slots.front())) * spacing * way;
            constexpr double room = 8;  // another stands there already
            const auto taken = [&](const Slot& s) { return (s.at - empty.at).norm() < room; };
            if (std::none_of(seen.begin(), seen.end(), taken)) out.push_back(empty);
        }
    }
    return out;
}

}  // namespace seatwright::scan
