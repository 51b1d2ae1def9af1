// What a job says of a batch still to be cut ([forecast]) and the gauges it is judged with ([[gauge]]).
// Lengths mm, angles rad; every sd and u a standard uncertainty (U = 2u).
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace seatwright::job {

// Every key optional: where it is silent the record speaks, else common practice.
struct ForecastRules {
    std::optional<int> heads;
    std::optional<int> touches;    // guides touched on every head, in each setup
    bool touches_planned = false;  // as many as reach find.enter_target
    bool rezero = false;           // the readout is zeroed anew on every head; one touch is spent on it
    std::optional<double> level_sd, guide_angle_sd;
    std::optional<double> height_sd, zero_sd;
    std::optional<double> depth_sd, depth_wear;  // wear: a seat, signed
    std::optional<double> width_sd, width_wear;
    std::optional<int> change_every;  // heads between changes of the blade
    std::optional<double> pilot_runout;
    std::optional<double> share;  // of the plumb error, what the float leaves
    std::optional<double> gauge_u, width_gauge_u, height_gauge_u;
};

// What a gauge can read, as [[gauge]] reads and a reading's verdicts name it.
inline constexpr const char* gauge_quantities = "runout|width|stem_height";

struct Gauge {
    std::string name;
    std::vector<std::string> reads;  // of gauge_quantities; empty = not said, any
    std::optional<double> u;
    std::optional<double> step;
    std::string calibrated_until;  // a date, year-month-day
};

}  // namespace seatwright::job
