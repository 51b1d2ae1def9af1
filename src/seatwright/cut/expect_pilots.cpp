#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/cut/expect.hpp"
#include "seatwright/job/of_head.hpp"
#include "seatwright/words/figure.hpp"

namespace seatwright::cut {

namespace {

// Sizes agree to this, mm; a pilot smaller than its bore by more than the other leads nothing (model.md).
constexpr double same_size = 1e-6, lost_in_bore = 0.3;

std::optional<job::GuideBore> last_reading(const job::Job& job, const std::string& head,
                                           const std::string& valve) {
    std::optional<job::GuideBore> last;
    for (const job::GuideBore& reading : job::of_head(job.readings.guides, head))
        if (reading.valve == valve) last = reading;
    return last;
}

// How far below the guide's top the gauge line of a taper comes to rest: each ring of the bore would hold it
// where the taper has that ring's size, and the first one met does.
double rests_at(const job::Pilot& pilot, const job::GuideBore& bore, double length) {
    double rest = 0;
    int ring = 0;
    for (const double size : {bore.top, bore.middle, bore.bottom}) {
        const double depth = 0.5 * ring * length + (size - pilot.diameter) / pilot.taper;
        if (ring++ == 0 || depth < rest) rest = depth;
    }
    return rest;
}

}  // namespace

std::string fault_of_pilot(const ExpectedSeat& seat, const job::Job& job, const Route& route,
                           const Stop& stop) {
    const job::Pilot& one = job.pilots.at(*stop.pilot);
    const auto& form = job.guide[job.head.valves.at(seat.valve).kind];
    const bool tapered = one.style == job::PilotStyle::tapered;
    const auto read = last_reading(job, route.head, seat.id);
    const auto wrong = [&](const char* what) {
        return fmt::format("pilot {} is asked for in guide {}, {}", one.name, seat.id, what);
    };
    if (!tapered) {
        if (!read && !(form && form->bore)) return wrong("of which no bore is known");
        const double least = read ? std::min({read->top, read->middle, read->bottom}) : *form->bore;
        if (one.diameter > least + same_size) return wrong("which is narrower");
        return one.diameter < least - lost_in_bore - same_size ? wrong("which is too wide for it") : "";
    }
    if (!read) return wrong("which was not read: nobody knows where it locks");
    if (!(one.taper > 0) || !form || !form->length || !form->to_seat)
        return wrong("and where it locks cannot be worked out");
    const double rest = rests_at(one, *read, *form->length), slack = same_size / one.taper;
    if (rest < -slack || rest > *form->length + slack) return wrong("where it does not lock");
    if (route.pilot != job::PilotUse::carried || !seat.planned) return "";
    const auto& drop = job.cutters.at(stop.tool.cutter).drop;
    if (!one.gauge_at || !one.slide || !drop) return wrong("and how far it slides is not known");
    // Its gauge line, slide out, lies so far below where it rests once the cutter is at its stop.
    const double back = *one.gauge_at - *drop - (*form->to_seat + *seat.planned) - rest;
    if (back < 0) return wrong("where the cutter comes to its stop before it locks");
    return back > *one.slide ? wrong("where it is driven solid") : "";
}

}  // namespace seatwright::cut
