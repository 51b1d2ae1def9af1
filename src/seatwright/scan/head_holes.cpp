// The holes of a head: bolts' in rows, plugs' in the chambers, others.
#include <algorithm>
#include <cmath>
#include <map>

#include "seatwright/drawing/holes.hpp"
#include "seatwright/scan/head.hpp"

namespace seatwright::scan {
namespace {

// Of holes square to the deck that begin at it those of the size most are of. True: they were taken so.
bool most_alike(const Plan& plan, drawing::Holes& which) {
    std::map<std::size_t, std::vector<std::size_t>> by_group;
    for (const auto m : which.others) {
        const FoundBore& b = plan.hole(m);
        constexpr double at_deck = 4;
        if (b.square && on_axis(b, b.fit.cylinder.high).z() > -at_deck)
            by_group[plan.marks.marks[m].group].push_back(m);
    }
    const std::vector<std::size_t>* best = nullptr;
    for (const auto& [group, all] : by_group)
        if (best == nullptr || all.size() > best->size()) best = &all;
    if (best == nullptr || best->size() < 2) return false;
    which.bolts = *best;
    std::erase_if(which.others, [&](std::size_t m) {
        return std::find(which.bolts.begin(), which.bolts.end(), m) != which.bolts.end();
    });
    return true;
}

Hole hole(const FoundBore& b, double along, const Frame& frame) {
    Hole h;
    const Vec3 p = frame.at(on_axis(b, along));
    const Mat3 c = frame.covariance(Vec2(p.head<2>()), frame.own_covariance(b, along));
    h.x = {p.x(), std::sqrt(c(0, 0))};
    h.y = {p.y(), std::sqrt(c(1, 1))};
    h.diameter = {2 * b.fit.cylinder.radius, 2 * std::sqrt(b.covariance(4, 4))};
    h.length = b.length();
    h.arc = b.arc;
    h.lean = std::acos(std::min(1.0, b.fit.cylinder.axis.z()));
    const Lean lean = lean_of(b, frame);
    h.incline = lean.incline;
    h.cant = lean.cant;
    h.wall = frame.of(b.fit.cylinder);
    return h;
}

}  // namespace

void make_holes(const Plan& plan, const Frame& frame, Scan& out, Head& head) {
    drawing::Holes which;
    if (!frame.layout().cylinders.empty())
        which = drawing::holes_of(plan.marks, frame.layout(), frame.marks(), frame.cylinders(), plan.groups,
                                  std::vector<std::string>(plan.groups.size()));
    else
        for (std::size_t m = plan.valves; m < plan.marks.marks.size(); ++m) which.others.push_back(m);
    if (which.bolts.empty()) head.bolts_in_doubt = most_alike(plan, which);
    const auto add = [&](const std::vector<std::size_t>& all, survey::HoleKind kind, const char* word) {
        int n = 0;
        for (const auto m : all) {
            const FoundBore& b = plan.hole(m);
            Hole h = hole(b, plan.along_of(b), frame);
            h.id = word + std::string(" ") + std::to_string(++n);
            h.kind = kind;
            h.in_doubt = head.bolts_in_doubt && kind == survey::HoleKind::bolt;
            out.holes.push_back(std::move(h));
        }
    };
    add(which.bolts, survey::HoleKind::bolt, "bolt");
    add(which.plugs, survey::HoleKind::plug, "plug");
    add(which.others, survey::HoleKind::other, "hole");
    out.bolt_diameter = bolt_diameter_of(out.holes);
}

Figure bolt_diameter_of(const std::vector<Hole>& holes) {
    double sum = 0, n = 0, squares = 0;
    for (const auto& h : holes)
        if (h.kind == survey::HoleKind::bolt) {
            sum += *h.diameter.value;
            ++n;
        }
    if (n == 0) return {};
    for (const auto& h : holes)
        if (h.kind == survey::HoleKind::bolt)
            squares += std::pow(*h.diameter.value - sum / n, 2) + h.diameter.u * h.diameter.u;
    return {sum / n, std::sqrt(squares) / n};
}

}  // namespace seatwright::scan
