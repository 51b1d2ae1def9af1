#include "seatwright/drawing/leans.hpp"

#include <algorithm>
#include <cmath>

#include "seatwright/base/units.hpp"

namespace seatwright::drawing {
namespace {

double lean_by(const Ring& ring) {
    return std::acos(std::clamp(ring.b / ring.a, 0.0, 1.0));
}

}  // namespace

Lean lean_of(const Marks& marks, std::size_t m, double u) {
    Lean out;
    const auto& rings = marks.marks[m].rings;
    // The largest says it best.
    const auto best = std::find_if(rings.rbegin(), rings.rend(), [](const Ring& r) { return !r.round(); });
    if (best == rings.rend()) return out;
    out.size = lean_by(*best);
    // cos(lean) = b/a: both read to u.
    out.u = u * std::sqrt(2.0) / (best->a * std::max(std::sin(*out.size), 1e-3));
    out.way = {-best->along.y(), best->along.x()};
    constexpr double same_lean = 0.5 * rad_per_deg;
    for (const auto& ring : rings)
        out.agree = out.agree && (ring.round() || std::abs(lean_by(ring) - *out.size) < same_lean);
    const Vec2 in_space = best->normal.head<2>();
    if (best->round_in_space && in_space.norm() > 1e-6) {
        if (in_space.dot(out.way) < 0) out.way = -out.way;
        out.sign_known = true;
    } else if (!marks.shifted[m].empty()) {
        // The guide lies deeper in the casting than its seat: away from where the axis comes out.
        if (marks.shifted[m].front().off.dot(out.way) > 0) out.way = -out.way;
        out.sign_known = true;
    }
    return out;
}

}  // namespace seatwright::drawing
