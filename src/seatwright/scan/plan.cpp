#include "seatwright/scan/plan.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

#include "seatwright/scan/slots.hpp"

namespace seatwright::scan {
namespace {

// The sizes made alike where they are: measured ones of one drill differ by their noise.
std::vector<double> made_alike(const std::vector<double>& sizes, double within) {
    std::vector<std::size_t> order(sizes.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return sizes[a] < sizes[b]; });
    std::vector<double> out = sizes;
    for (std::size_t i = 0; i < order.size();) {
        std::size_t end = i + 1;
        double sum = sizes[order[i]];
        while (end < order.size() && sizes[order[end]] - sizes[order[end - 1]] < within)
            sum += sizes[order[end++]];
        for (std::size_t k = i; k < end; ++k) out[order[k]] = sum / static_cast<double>(end - i);
        i = end;
    }
    return out;
}

// How far sizes of one drill may lie apart as measured, mm of radius; a seat's by so many sd where noise is
// great.
constexpr double one_drill = 0.08, one_seat = 0.3, one_seat_sds = 8;

class Marker {
  public:
    Marker(Plan& plan, double sd) : plan_(plan), one_seat_(std::max(one_seat, one_seat_sds * sd)) {}

    void valves() {
        auto& sorted = plan_.sorted;
        std::vector<const FoundBore*> all = sorted.guides;
        all.insert(all.end(), sorted.short_guides.begin(), sorted.short_guides.end());
        std::vector<double> bores, seats;
        for (const auto* b : all) {
            bores.push_back(b->fit.cylinder.radius);
            seats.push_back(has_seat(*b) ? b->seat->gauge : 0);
        }
        bores = made_alike(bores, one_drill);
        seats = made_alike(seats, one_seat_);
        plan_.seats_seen =
            std::any_of(all.begin(), all.end(), [](const auto* b) { return b->seat.has_value(); });
        // One whose seat is not seen, or may be another facet, stands in its row as those do that are like
        // it.
        for (std::size_t i = 0; i < all.size(); ++i) {
            double best = 0.9;
            for (std::size_t k = 0; k < all.size() && !has_seat(*all[i]); ++k) {
                const double alike = all[i]->fit.cylinder.axis.dot(all[k]->fit.cylinder.axis);
                if (!has_seat(*all[k]) || bores[k] != bores[i] || alike < best) continue;
                best = alike;
                seats[i] = seats[k];
            }
            if (seats[i] == 0 && all[i]->seat) seats[i] = all[i]->seat->gauge;
        }
        std::vector<Slot> stand;
        for (std::size_t i = 0; i < all.size(); ++i)
            stand.push_back({on_axis(*all[i], plan_.along_of(*all[i])).head<2>(), bores[i], seats[i]});
        plan_.known = stand.size();
        for (const auto& empty : empty_slots(stand)) stand.push_back(empty);
        for (const auto& s : stand) add(s.at, s.bore, s.seat, "valve");
        plan_.valves = stand.size();
    }

    void holes() {
        const auto& all = plan_.sorted.holes;
        std::vector<double> radii;
        radii.reserve(all.size());
        for (const auto* h : all) radii.push_back(h->fit.cylinder.radius);
        radii = made_alike(radii, one_drill);
        for (std::size_t i = 0; i < all.size(); ++i)
            add(on_axis(*all[i], plan_.along_of(*all[i])).head<2>(), radii[i], 0, "");
        plan_.marks.shifted.resize(plan_.marks.marks.size());
    }

  private:
    static bool has_seat(const FoundBore& b) { return b.seat && !b.seat->seat.in_doubt; }

    void add(const Vec2& at, double bore, double seat, std::string name) {
        drawing::Mark mark;
        mark.at = at;
        drawing::Ring ring;
        ring.centre = at;
        ring.a = ring.b = bore;
        mark.rings.push_back(ring);
        ring.a = ring.b = seat;
        if (seat > bore) mark.rings.push_back(ring);
        // Groups by name and size.
        const auto key = std::pair{name, std::llround(100 * bore) * 100000 + std::llround(100 * seat)};
        const auto [it, fresh] = group_of_.try_emplace(key, plan_.groups.size());
        if (fresh) plan_.groups.push_back(std::move(name));
        mark.group = it->second;
        plan_.marks.marks.push_back(std::move(mark));
        plan_.marks.groups = plan_.groups.size();
    }

    Plan& plan_;
    double one_seat_;
    std::map<std::pair<std::string, long long>, std::size_t> group_of_;
};

// Every valve's seat as large as the middle one of those on its size of bore.
drawing::Marks seats_of_their_bores(drawing::Marks marks, std::size_t valves) {
    std::map<double, std::vector<double>> seats;
    for (std::size_t m = 0; m < valves; ++m)
        if (const auto& rings = marks.marks[m].rings; rings.size() > 1)
            seats[rings.front().a].push_back(rings.back().a);
    for (auto& [bore, all] : seats) std::sort(all.begin(), all.end());
    for (std::size_t m = 0; m < valves; ++m) {
        auto& rings = marks.marks[m].rings;
        const auto of = seats.find(rings.front().a);
        if (of == seats.end()) continue;
        drawing::Ring seat = rings.front();
        seat.a = seat.b = of->second[of->second.size() / 2];
        rings = {rings.front(), seat};
    }
    return marks;
}

// Cylinders hold like seats; but where noise is great one facet may be taken for another, and cylinders that
// are alike do not look so. Then the places alone say which valves stand together (each cylinder's seats
// within one circle, the circles beside each other): what gives more cylinders is taken.
drawing::Layout laid_out(const Plan& plan) {
    auto out = drawing::layout_of(plan.marks, plan.groups).value_or(drawing::Layout{});
    auto by_place = drawing::layout_of(seats_of_their_bores(plan.marks, plan.valves), plan.groups);
    if (by_place && by_place->cylinders.size() > out.cylinders.size()) return std::move(*by_place);
    return out;
}

bool like_axis(const FoundBore& a, const FoundBore& b) {
    constexpr double alike = 0.03;
    return a.fit.cylinder.axis.cross(b.fit.cylinder.axis).norm() < alike;
}

bool is_among(const std::vector<const FoundBore*>& all, const FoundBore& one) {
    return std::find(all.begin(), all.end(), &one) != all.end();
}

}  // namespace

double Plan::along_of(const FoundBore& b) const {
    const auto& c = b.fit.cylinder;
    if (b.seat) return b.seat->height;
    double sum = 0, n = 0;
    for (const auto* g : sorted.guides)
        if (g->seat && std::abs(g->fit.cylinder.radius / c.radius - 1) < 0.05 && like_axis(*g, b)) {
            sum += on_axis(*g, g->seat->height).z();
            ++n;
        }
    const bool guide = is_among(sorted.guides, b) || is_among(sorted.short_guides, b);
    return ((guide && n > 0 ? sum / n : 0) - c.at.z()) / c.axis.z();
}

Plan plan_of(const Found& found) {
    Plan out;
    out.sorted = sorted(found);
    Marker marker(out, found.sd);
    marker.valves();
    marker.holes();
    if (out.valves > 0) out.layout = laid_out(out);
    return out;
}

}  // namespace seatwright::scan
