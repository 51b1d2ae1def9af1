#include "seatwright/shape/consequences.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "seatwright/shape/worn.hpp"

namespace seatwright::shape {

namespace {
// Rounding noise of a depth in whole steps, as a part of a step.
constexpr double whole_step_noise = 1e-6;
}  // namespace

double spring_shim_for(double gain, const std::vector<double>& stock) {
    double best = 0;
    for (const double shim : stock) {
        const double near = std::abs(gain - shim), before = std::abs(gain - best);
        if (near < before || (near == before && shim < best)) best = shim;
    }
    return best;
}

double lash_shim_for(double depth, double step) {
    return step > 0 ? step * std::ceil(depth / step - whole_step_noise) : depth;
}

void add_consequences(const job::Job& job, const job::SeatForm& form, const Before& before, Seat& seat) {
    const double depth = *seat.depth;
    seat.recession_added = depth;
    if (before.recession || form.recession_max)
        seat.recession_after = before.recession.value_or(0) - job.depth.deck_cut + depth;
    if (const auto stem = stem_before(form, before)) {
        seat.stem_height_after = *stem + depth;
        // Back to the drawing, or to what it was when the drawing is silent.
        seat.tip_grind = std::max(0.0, *stem + depth - form.stem_height.value_or(*stem));
    }
    if (!job.depth.spring_shims.empty()) seat.spring_shim = spring_shim_for(depth, job.depth.spring_shims);
    if (job.depth.lash_shim_step) seat.lash_shim = lash_shim_for(depth, *job.depth.lash_shim_step);
    seat.proud = proud_by(seat.section, before.worn);
    seat.still_old = still_old(seat.section, before.worn, depth);
    if (const auto removal = removal_of(seat.section, before.worn, depth)) seat.removed = removal->volume;
}

double program_zero(const job::Job& job, const hold::Setup& setup) {
    if (job.depth.from != job::DepthFrom::deck) return 0;
    // The deck is by then at z = −q, so far up the guide axis from the seat.
    const job::Valve& datum = job.head.valves[setup.datum];
    const double up = -(datum.seat.z() + job.depth.deck_cut) / datum.axis().z();
    return (setup.rotation() * datum.axis()).z() * up;
}

StopAt stop_at(const job::Job& job, const hold::Hold& hold, std::size_t valve, double depth) {
    const job::Valve& v = job.head.valves[valve];
    StopAt stop;
    if (job.depth.from == job::DepthFrom::touch) stop.z = -depth;
    if (job.depth.from == job::DepthFrom::deck)
        stop.z = (v.seat.z() + job.depth.deck_cut) / v.axis().z() - depth;
    for (const auto& setup : hold.setups) {
        const auto held = std::find_if(setup.valves.begin(), setup.valves.end(),
                                       [&](const hold::Held& h) { return h.valve == valve; });
        if (held == setup.valves.end()) continue;
        stop.program_z = held->map.z() - program_zero(job, setup) - depth;
        if (job.depth.from == job::DepthFrom::datum) stop.z = held->map.z() - depth;
        break;
    }
    return stop;
}

std::vector<Chamber> chambers_of(const job::Job& job, const HeadBefore& before,
                                 const std::vector<Seat>& seats) {
    std::map<int, Chamber> by_cylinder;
    const double deck = job.head.chamber_area ? *job.head.chamber_area * job.depth.deck_cut : 0;
    for (const auto& seat : seats) {
        if (!seat.depth) continue;
        const job::Valve& valve = job.head.valves[seat.valve];
        Chamber& c = by_cylinder.try_emplace(valve.cylinder, Chamber{valve.cylinder, {}, {}, -deck, {}, {}})
                         .first->second;
        c.change += before.problem.area[valve.kind] * *seat.depth;
    }
    std::vector<Chamber> out;
    for (auto& [cylinder, c] : by_cylinder) {
        const auto& names = before.problem.cylinder_name;
        const auto at = std::find(names.begin(), names.end(), cylinder);
        if (at != names.end()) {
            // The problem's volumes are after the deck cut; what was read is before it.
            c.before = before.problem.chamber[static_cast<std::size_t>(at - names.begin())] + deck;
            c.after = *c.before + c.change;
            if (job.depth.swept && *c.before > 0 && *c.after > 0) {
                c.compression_before = (*job.depth.swept + *c.before) / *c.before;
                c.compression_after = (*job.depth.swept + *c.after) / *c.after;
            }
        }
        out.push_back(c);
    }
    return out;
}

}  // namespace seatwright::shape
