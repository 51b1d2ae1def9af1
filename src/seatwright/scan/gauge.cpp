#include "seatwright/scan/gauge.hpp"

#include <algorithm>
#include <cmath>

#include "seatwright/base/numerics/median.hpp"
#include "seatwright/scan/noise.hpp"

namespace seatwright::scan {
namespace {

// Sorted, and without what stands off on its own beyond either end: other things that cross the face's line.
void without_strays(std::vector<double>& all) {
    std::sort(all.begin(), all.end());
    const std::size_t n = all.size();
    constexpr double times = 15;
    const double gap = times * (all[n * 3 / 4] - all[n / 4]) / (static_cast<double>(n) / 2);
    std::size_t first = n / 2, last = n / 2;
    while (first > 0 && all[first] - all[first - 1] < gap) --first;
    while (last + 1 < n && all[last + 1] - all[last] < gap) ++last;
    all.erase(all.begin() + static_cast<std::ptrdiff_t>(last) + 1, all.end());
    all.erase(all.begin(), all.begin() + static_cast<std::ptrdiff_t>(first));
}

// An edge of the face where no other facet meets it: what is seen, evenly spread over it, ends there.
std::array<double, 2> seen_edges(const std::vector<Point>& points, const Cylinder& axis, const Facet& f,
                                 std::array<double, 2>& u) {
    const Across frame = across(axis.axis);
    std::vector<double> squares;
    const FacetLine line = f.line();
    for (const auto& p : points) {
        Vec3 d = in_axis_frame(axis, frame, p.vec());
        d.head<2>() -= f.off;
        const double rho = d.head<2>().norm();
        if (std::abs(line.distance(rho, d.z())) < band_sds * f.sd && line.holds(rho, d.z(), 0.9))
            squares.push_back(std::pow(f.rho + line.along(rho, d.z()) * line.cos(), 2));
    }
    if (squares.size() < 50) return {f.inner, f.outer};
    without_strays(squares);
    constexpr double tail = 0.02;
    const double low = numerics::value_at(squares, tail), high = numerics::value_at(squares, 1 - tail),
                 more = (high - low) * tail / (1 - 2 * tail);
    const std::array out{std::sqrt(low - more), std::sqrt(high + more)};
    const double by_count = (out[1] - out[0]) * std::sqrt(tail / static_cast<double>(squares.size()));
    u[0] = u[1] = std::hypot(by_count, f.sd * std::sin(f.angle) / 2);
    return out;
}

}  // namespace

double meeting(const Facet& a, const Facet& b) {
    const double ta = std::tan(a.angle), tb = std::tan(b.angle);
    return (b.s - a.s + ta * a.rho - tb * b.rho) / (ta - tb);
}

void measure_face(const std::vector<Point>& points, const Cylinder& axis, FoundSeat& out) {
    const Seat& seat = out.seat;
    std::array<double, 2> u_seen{};
    const auto seen = seen_edges(points, axis, seat.seat_face(), u_seen);
    const auto worked_out = [&](const std::vector<Facet>& facets) {
        Seat one = seat;
        one.facets = facets;
        auto edges = edges_of_face(one);
        if (seat.face == 0) edges[0] = seen[0];
        if (seat.face + 1 == facets.size()) edges[1] = seen[1];
        const double gauge = (edges[0] + edges[1]) / 2;
        return std::array{edges[0], edges[1], gauge, facets[seat.face].height_at(gauge)};
    };
    const auto best = worked_out(seat.facets);
    std::array<double, 4> squares{};
    for (std::size_t k = 0; k < seat.facets.size(); ++k)
        for (int what = 0; what < 2; ++what) {
            constexpr double step = 1e-5;
            auto facets = seat.facets;
            (what == 0 ? facets[k].s : facets[k].angle) += step;
            const auto now = worked_out(facets);
            // Height and angle of a facet about its middle hardly go together: that they do is left out.
            for (std::size_t i = 0; i < 4; ++i)
                squares[i] += std::pow((now[i] - best[i]) / step, 2) * out.covariance[k](what, what);
        }
    const double slope = std::tan(seat.seat_face().angle);
    for (std::size_t edge = 0; edge < 2; ++edge) {
        if (edge == 0 ? seat.face > 0 : seat.face + 1 < seat.facets.size()) continue;
        const double own = u_seen[edge] * u_seen[edge];
        squares[edge] += own;
        squares[2] += own / 4;
        squares[3] += own / 4 * slope * slope;
    }
    out.edges = {best[0], best[1]};
    out.u_edges = {std::sqrt(squares[0]), std::sqrt(squares[1])};
    out.gauge = best[2];
    out.height = best[3];
    out.u_gauge = std::sqrt(squares[2]);
    out.u_height = std::sqrt(squares[3]);
}

}  // namespace seatwright::scan
