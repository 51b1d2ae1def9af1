// Every member of every struct of a job, named: what compares jobs or takes their fingerprint forgets none,
// since a struct with one member more does not compile here until it is named too.
//
// fields(x, visit) calls visit(member, member, …). Left out is only where something stands in a file: the
// line is nothing that was said.
#pragma once

#include "seatwright/job/job.hpp"

namespace seatwright::job {

template <class T, class Visit>
void fields(const PerKind<T>& of, Visit&& visit) {
    const auto& [intake, exhaust] = of;
    visit(intake, exhaust);
}

template <class Visit>
void fields(const Range& of, Visit&& visit) {
    const auto& [low, high] = of;
    visit(low, high);
}

template <class Visit>
void fields(const Facet& of, Visit&& visit) {
    const auto& [angle, width] = of;
    visit(angle, width);
}

template <class Visit>
void fields(const ValveForm& of, Visit&& visit) {
    const auto& [head_diameter, face_angle, stem_diameter, margin] = of;
    visit(head_diameter, face_angle, stem_diameter, margin);
}

template <class Visit>
void fields(const Insert& of, Visit&& visit) {
    const auto& [outside, inside, depth, interference, material] = of;
    visit(outside, inside, depth, interference, material);
}

template <class Visit>
void fields(const Finish& of, Visit&& visit) {
    const auto& [stem_height, below_deck, recession] = of;
    visit(stem_height, below_deck, recession);
}

template <class Visit>
void fields(const SeatForm& of, Visit&& visit) {
    const auto& [angle, width, inset, contact_diameter, top, throat, width_tol, runout_max, stem_height,
                 stem_height_min, stem_height_max, recession_min, recession_max, below_deck, below_deck_min,
                 below_deck_max, finish, cleanup, old_as_drawn, tip_grind_max, spring_height, vacuum_min,
                 vacuum_loss_max, cut_allowed, material, insert] = of;
    visit(angle, width, inset, contact_diameter, top, throat, width_tol, runout_max, stem_height,
          stem_height_min, stem_height_max, recession_min, recession_max, below_deck, below_deck_min,
          below_deck_max, finish, cleanup, old_as_drawn, tip_grind_max, spring_height, vacuum_min,
          vacuum_loss_max, cut_allowed, material, insert);
}

template <class Visit>
void fields(const GuideForm& of, Visit&& visit) {
    const auto& [bore, bore_max, bell_max, length, mouth, to_seat, below, outside, interference] = of;
    visit(bore, bore_max, bell_max, length, mouth, to_seat, below, outside, interference);
}

template <class Visit>
void fields(const Valve& of, Visit&& visit) {
    const auto& [id, cylinder, kind, seat, incline, cant, pattern] = of;
    visit(id, cylinder, kind, seat, incline, cant, pattern);
}

template <class Visit>
void fields(const Obstacle& of, Visit&& visit) {
    const auto& [name, centre, diameter, incline, cant, length] = of;
    visit(name, centre, diameter, incline, cant, length);
}

template <class Visit>
void fields(const Head& of, Visit&& visit) {
    const auto& [name, material, mass, mirror, datum, valves, bolt_holes, bolt_hole_diameter, posts,
                 obstacles, cylinders, bore_spacing, bore_diameter, chamber_area, layout, assumed, surveyed,
                 of_casting] = of;
    visit(name, material, mass, mirror, datum, valves, bolt_holes, bolt_hole_diameter, posts, obstacles,
          cylinders, bore_spacing, bore_diameter, chamber_area, layout, assumed, surveyed, of_casting);
}

template <class Visit>
void fields(const SeatOrder& of, Visit&& visit) {
    const auto& [valve, depth, finish, line] = of;
    visit(valve, depth, finish);
}

template <class Visit>
void fields(const DepthRules& of, Visit&& visit) {
    const auto& [step, stem_spread, chamber_spread, cleanup_margin, from, to, zero_on, deck_at, block, feeler,
                 seats, plan, deck_cut, bridge_min, spring_shims, lash_shim_step, swept] = of;
    visit(step, stem_spread, chamber_spread, cleanup_margin, from, to, zero_on, deck_at, block, feeler, seats,
          plan, deck_cut, bridge_min, spring_shims, lash_shim_step, swept);
}

template <class Visit>
void fields(const Carry& of, Visit&& visit) {
    const auto& [offset, yaw, sd, yaw_sd] = of;
    visit(offset, yaw, sd, yaw_sd);
}

template <class Visit>
void fields(const PastHead& of, Visit&& visit) {
    const auto& [head, from, tilt, swing, valves, off, sd] = of;
    visit(head, from, tilt, swing, valves, off, sd);
}

template <class Visit>
void fields(const FindRules& of, Visit&& visit) {
    const auto& [touch_sd, casting_sd, yaw_sd, positioning_sd, touch_sd_assumed, casting_sd_assumed,
                 enter_target, learn_min_heads, carry, past] = of;
    visit(touch_sd, casting_sd, yaw_sd, positioning_sd, touch_sd_assumed, casting_sd_assumed, enter_target,
          learn_min_heads, carry, past);
}

template <class Visit>
void fields(const CutRules& of, Visit&& visit) {
    const auto& [pilot, approach, finish_depth, first_short, first, first_stop, trim_max, enter_feed,
                 enter_min, entry_rpm, speed] = of;
    visit(pilot, approach, finish_depth, first_short, first, first_stop, trim_max, enter_feed, enter_min,
          entry_rpm, speed);
}

template <class Visit>
void fields(const ForecastRules& of, Visit&& visit) {
    const auto& [heads, touches, touches_planned, rezero, level_sd, guide_angle_sd, height_sd, zero_sd,
                 depth_sd, depth_wear, width_sd, width_wear, change_every, pilot_runout, share, gauge_u,
                 width_gauge_u, height_gauge_u] = of;
    visit(heads, touches, touches_planned, rezero, level_sd, guide_angle_sd, height_sd, zero_sd, depth_sd,
          depth_wear, width_sd, width_wear, change_every, pilot_runout, share, gauge_u, width_gauge_u,
          height_gauge_u);
}

template <class Visit>
void fields(const Gauge& of, Visit&& visit) {
    const auto& [name, reads, u, step, calibrated_until] = of;
    visit(name, reads, u, step, calibrated_until);
}

template <class Visit>
void fields(const GaugesUsed& of, Visit&& visit) {
    const auto& [runout, width, stem_height] = of;
    visit(runout, width, stem_height);
}

template <class Visit>
void fields(const Sure& of, Visit&& visit) {
    const auto& [words, line, units, said_by] = of;
    visit(words, units, said_by);
}

template <class Visit>
void fields(const Allowance& of, Visit&& visit) {
    const auto& [what, why, by, line] = of;
    visit(what, why, by);
}

// The line of an odd figure is told in the question about it, and so is said; its range is a row of a table.
template <class Visit>
void fields(const OddFigure& of, Visit&& visit) {
    const auto& [range, key, head, valve, value, typed, line] = of;
    visit(range->key, key, head, valve, value, typed, line);
}

template <class Visit>
void fields(const UnitsRead& of, Visit&& visit) {
    const auto& [as_written, in_other_unit] = of;
    visit(as_written, in_other_unit);
}

template <class Visit>
void fields(const Figures& of, Visit&& visit) {
    const auto& [odd, units, file_units] = of;
    visit(odd, units, file_units);
}

template <class Visit>
void fields(const Mode& of, Visit&& visit) {
    const auto& [frequency, stiffness, damping] = of;
    visit(frequency, stiffness, damping);
}

template <class Visit>
void fields(const Float& of, Visit&& visit) {
    const auto& [kind, free, lock, centre] = of;
    visit(kind, free, lock, centre);
}

template <class Visit>
void fields(const Machine& of, Visit&& visit) {
    const auto& [name, travel_x, travel_y, travel_z, x_sign, y_sign, z_sign, resolution, rpm_min, rpm_max,
                 rpm_step, power, torque, rapid, accel, float_stiffness, axial_stiffness, mode, zero, trim,
                 runs, tool_float, lock_to_cut, spin_up, spin_down, load_at, measure_at, pilot_change, ball] =
        of;
    visit(name, travel_x, travel_y, travel_z, x_sign, y_sign, z_sign, resolution, rpm_min, rpm_max, rpm_step,
          power, torque, rapid, accel, float_stiffness, axial_stiffness, mode, zero, trim, runs, tool_float,
          lock_to_cut, spin_up, spin_down, load_at, measure_at, pilot_change, ball);
}

template <class Visit>
void fields(const Fixture& of, Visit&& visit) {
    const auto& [name, tilt, swing, plumb_limit, step, post_diameter, clamp_force, friction, captive,
                 load_from, post_span, mass_max, suits] = of;
    visit(name, tilt, swing, plumb_limit, step, post_diameter, clamp_force, friction, captive, load_from,
          post_span, mass_max, suits);
}

template <class Visit>
void fields(const Pilot& of, Visit&& visit) {
    const auto& [name, style, diameter, taper, free_length, tip, turns_with_tool, reach, gauge_at, slide,
                 seat_force, length, above, count] = of;
    visit(name, style, diameter, taper, free_length, tip, turns_with_tool, reach, gauge_at, slide, seat_force,
          length, above, count);
}

template <class Visit>
void fields(const Cutter& of, Visit&& visit) {
    const auto& [name, facets, gauge_diameter, blades, drop, lowest, body, bore_depth] = of;
    visit(name, facets, gauge_diameter, blades, drop, lowest, body, bore_depth);
}

template <class Visit>
void fields(const Material& of, Visit&& visit) {
    const auto& [name, kc11, mc, speed, feed, modulus, poisson, expansion, normal_ratio] = of;
    visit(name, kc11, mc, speed, feed, modulus, poisson, expansion, normal_ratio);
}

template <class Visit>
void fields(const Rates& of, Visit&& visit) {
    const auto& [currency, head, valve, guide, insert] = of;
    visit(currency, head, valve, guide, insert);
}

template <class Visit>
void fields(const Dialect& of, Visit&& visit) {
    const auto& [name, decimals_mm, decimals_inch, line_numbers, comment, dwell_in_milliseconds,
                 canned_cycles, tool_change, program_end, file_ending, top, names] = of;
    visit(name, decimals_mm, decimals_inch, line_numbers, comment, dwell_in_milliseconds, canned_cycles,
          tool_change, program_end, file_ending, top, names);
}

template <class Visit>
void fields(const Touch& of, Visit&& visit) {
    const auto& [head, valve, at, sd, line, sure, keep, date, by] = of;
    visit(head, valve, at, sd, sure, keep, date, by);
}

template <class Visit>
void fields(const Level& of, Visit&& visit) {
    const auto& [head, valve, across, first, second, line, sure, date, by] = of;
    visit(head, valve, across, first, second, sure, date, by);
}

template <class Visit>
void fields(const GuideBore& of, Visit&& visit) {
    const auto& [head, valve, top, middle, bottom, line, sure, date, by] = of;
    visit(head, valve, top, middle, bottom, sure, date, by);
}

template <class Visit>
void fields(const SeatBefore& of, Visit&& visit) {
    const auto& [head, valve, stem_height, recession, cleanup, chamber, section, rest_z, below_deck,
                 face_outside, face_width, valve_used, after_deck_cut, line, sure, date, by] = of;
    visit(head, valve, stem_height, recession, cleanup, chamber, section, rest_z, below_deck, face_outside,
          face_width, valve_used, after_deck_cut, sure, date, by);
}

template <class Visit>
void fields(const SeatAfter& of, Visit&& visit) {
    const auto& [head, valve, trace, angles, runout, width, stem_height, vacuum, by, gauge_u, resolution,
                 date, gauge, gauges, calibrated, cutter, accepted_by, vacuum_after, vacuum_seconds, line,
                 sure] = of;
    visit(head, valve, trace, angles, runout, width, stem_height, vacuum, by, gauge_u, resolution, date,
          gauge, gauges, calibrated, cutter, accepted_by, vacuum_after, vacuum_seconds, sure);
}

template <class Visit>
void fields(const FirstWasPlanned& of, Visit&& visit) {
    const auto& [figure, value] = of;
    visit(figure, value);
}

template <class Visit>
void fields(const FirstSeat& of, Visit&& visit) {
    const auto& [head, valve, depth, stem_height, below_deck, trimmed, plan, planned, gauge_u, sure, line,
                 date, by, earlier] = of;
    visit(head, valve, depth, stem_height, below_deck, trimmed, plan, planned, gauge_u, sure, date, by,
          earlier);
}

}  // namespace seatwright::job
