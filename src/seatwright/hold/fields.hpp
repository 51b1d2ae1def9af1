// Every member of what hold gives to the stages after it, named as in job/fields.hpp.
#pragma once

#include "seatwright/hold/hold.hpp"

namespace seatwright::hold {

template <class Visit>
void fields(const Held& of, Visit&& visit) {
    const auto& [valve, plumb_error, reachable, map, readout] = of;
    visit(valve, plumb_error, reachable, map, readout);
}

template <class Visit>
void fields(const Safety& of, Visit&& visit) {
    const auto& [mass, slope, slip_factor, slides_when_released, friction_known, stopped, uphill] = of;
    visit(mass, slope, slip_factor, slides_when_released, friction_known, stopped, uphill);
}

template <class Visit>
void fields(const Setup& of, Visit&& visit) {
    const auto& [id, datum, tilt, swing, worst_plumb_error, travel_margin, valves, safety] = of;
    visit(id, datum, tilt, swing, worst_plumb_error, travel_margin, valves, safety);
}

template <class Visit>
void fields(const Posts& of, Visit&& visit) {
    const auto& [holes, a, b, span, clearance, position_sd, yaw_sd] = of;
    visit(holes, a, b, span, clearance, position_sd, yaw_sd);
}

}  // namespace seatwright::hold
