#include "seatwright/shape/consequences.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "seatwright/shape/finish.hpp"
#include "seatwright/shape/worn.hpp"
#include "seatwright/shape/zero.hpp"

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
    if (!seat.height.relative) seat.recession_after = seat.finished_recession;
    const bool to_height = finish_wanted(job, job.head.valves[seat.valve]).has_value();
    if (seat.depth && (before.stem_height || !to_height)) {
        if (const auto stem = stem_before(form, before)) seat.stem_height_after = *stem + *seat.depth;
    } else if (form.stem_height && seat.finished_recession) {
        seat.stem_height_after = *form.stem_height + *seat.finished_recession;
    }
    // Back to the drawing, or to what it was when the drawing is silent.
    if (seat.stem_height_after)
        seat.tip_grind = std::max(
            0.0, *seat.stem_height_after - form.stem_height.value_or(before.stem_height.value_or(0)));
    if (!seat.depth) return;
    const double depth = *seat.depth;
    seat.recession_added = depth;
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

StopAt stop_at(const job::Job& job, const hold::Hold& hold, const HeadBefore& before, const Seat& seat) {
    const job::Valve& v = job.head.valves[seat.valve];
    const bool deck = job.depth.from == job::DepthFrom::deck;
    StopAt stop;
    if (!seat.stop_s) return stop;
    if (deck) stop.z = deck_to_stop(v.seat.z(), job.depth.deck_cut, v.axis().z(), *seat.stop_s);
    if (!deck && job.depth.from != job::DepthFrom::datum && seat.depth) stop.z = -*seat.depth;
    for (const auto& setup : hold.setups) {
        const auto held = std::find_if(setup.valves.begin(), setup.valves.end(),
                                       [&](const hold::Held& h) { return h.valve == seat.valve; });
        if (held == setup.valves.end()) continue;
        const double old_datum = deck ? 0 : before.height[setup.datum].recession.value_or(0);
        stop.program_z = held->map.z() - program_zero(job, setup) + *seat.stop_s + old_datum;
        if (job.depth.from == job::DepthFrom::datum && seat.depth) stop.z = held->map.z() - *seat.depth;
        break;
    }
    return stop;
}

std::vector<Chamber> chambers_of(const job::Job& job, const HeadBefore& before,
                                 const std::vector<Seat>& seats) {
    std::map<int, Chamber> by_cylinder;
    const double deck = job.head.chamber_area ? *job.head.chamber_area * job.depth.deck_cut : 0;
    for (const auto& seat : seats) {
        if (!seat.depth || seat.decision != Decision::cut) continue;
        const job::Valve& valve = job.head.valves[seat.valve];
        Chamber& c = by_cylinder.try_emplace(valve.cylinder, Chamber{valve.cylinder, {}, {}, -deck, {}, {}})
                         .first->second;
        c.change += before.problem.area[valve.kind] * *seat.depth;
    }
    std::vector<Chamber> out;
    for (auto& entry : by_cylinder) {
        Chamber& c = entry.second;
        const auto& names = before.cylinder_name;
        const auto at = std::find(names.begin(), names.end(), c.cylinder);
        if (at != names.end()) {
            // The problem's volumes are after the deck cut; what was read is before it.
            c.before = before.chamber[static_cast<std::size_t>(at - names.begin())] + deck;
            const bool known = std::all_of(seats.begin(), seats.end(), [&](const Seat& s) {
                return s.depth || !s.stop_s || job.head.valves[s.valve].cylinder != c.cylinder;
            });
            if (known) c.after = *c.before + c.change;
            if (known && job.depth.swept && *c.before > 0 && *c.after > 0) {
                c.compression_before = (*job.depth.swept + *c.before) / *c.before;
                c.compression_after = (*job.depth.swept + *c.after) / *c.after;
            }
        }
        out.push_back(c);
    }
    return out;
}

}  // namespace seatwright::shape
