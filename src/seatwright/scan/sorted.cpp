#include "seatwright/scan/sorted.hpp"

#include <algorithm>
#include <cmath>

namespace seatwright::scan {
namespace {

constexpr double largest_guide = 8;  // radius, mm: stems of large engines (from memory)

bool coaxial(const FoundBore& a, const FoundBore& b) {
    constexpr double near = 1.5, turned = 0.07;
    const auto &p = a.fit.cylinder, &q = b.fit.cylinder;
    const Vec3 d = p.at - q.at;
    return p.axis.cross(q.axis).norm() < turned && (d - q.axis.dot(d) * q.axis).norm() < near;
}

// As far from the deck's normal, whichever way: those of mirrored cylinders are alike.
bool lean_alike(const FoundBore& a, const FoundBore& b) {
    constexpr double alike = 0.05;
    const auto lean = [](const FoundBore& g) { return std::acos(std::min(1.0, g.fit.cylinder.axis.z())); };
    return std::abs(lean(a) - lean(b)) < alike;
}

}  // namespace

Sorted sorted(const Found& found) {
    Sorted out;
    std::vector<const FoundBore*> rest;
    const auto narrow = [](const FoundBore& b) { return b.fit.cylinder.radius <= largest_guide; };
    for (const auto& b : found.bores)
        (b.seat && narrow(b) && b.length() >= least_length ? out.guides : rest).push_back(&b);
    for (const auto& b : found.part)
        if (b.seat && narrow(b)) out.short_guides.push_back(&b);
    out.part = out.short_guides.size();
    for (auto it = rest.begin(); it != rest.end();)
        if ((*it)->seat && narrow(**it)) {
            out.short_guides.push_back(*it);
            it = rest.erase(it);
        } else {
            ++it;
        }
    const bool seats = !out.guides.empty() || !out.short_guides.empty();
    // Seen over too little, no seat made out above it, and of a guide's size: a guide all the same.
    const auto like_guide = [&](const FoundBore& b) {
        const auto like = [&](const FoundBore* g) {
            return std::abs(g->fit.cylinder.radius / b.fit.cylinder.radius - 1) < 0.05;
        };
        return narrow(b) && !b.square &&
               (std::any_of(out.guides.begin(), out.guides.end(), like) ||
                std::any_of(out.short_guides.begin(), out.short_guides.end(), like));
    };
    std::vector<const FoundBore*> more;
    for (const auto& b : found.part)
        if (!b.seat && like_guide(b)) more.push_back(&b);
    out.short_guides.insert(out.short_guides.end(), more.begin(), more.end());
    out.part += more.size();
    for (const auto* b : rest) {
        const auto stands_with = [&](const FoundBore* g) { return coaxial(*b, *g); };
        if (std::any_of(out.guides.begin(), out.guides.end(), stands_with) ||
            std::any_of(out.short_guides.begin(), out.short_guides.end(), stands_with))
            continue;  // a throat or a counterbore of that valve
        if (b->arc < sure_arc) {
            out.grooves.push_back(b);
            continue;
        }
        const double r = b->fit.cylinder.radius;
        // Its size and its lean are those of a guide whose seat is seen: a plug's hole may be as wide.
        const auto like = [&](const FoundBore* g) {
            return std::abs(g->fit.cylinder.radius / r - 1) < 0.05 && lean_alike(*g, *b);
        };
        const bool leans = !b->square && b->length() >= least_length;
        constexpr double no_seat_guide = 6.5, no_seat_length = 15;
        if (leans && seats && narrow(*b) && std::any_of(out.guides.begin(), out.guides.end(), like))
            out.guides.push_back(b);
        else if (leans && !seats && r < no_seat_guide && b->length() >= no_seat_length)
            out.guides.push_back(b);
        else
            out.holes.push_back(b);
    }
    return out;
}

}  // namespace seatwright::scan
