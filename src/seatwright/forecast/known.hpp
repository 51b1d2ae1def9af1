// What the forecast stands on: every figure that may vary or be changed, and where each came from.
//
// An explicit [forecast] key counts first; then the record (casting scatter that find learned, level
// readings, the spread and drift of seats measured after cutting); then what else the job says; then common
// practice. Lengths mm, angles rad; sds and u standard uncertainties.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "seatwright/plan/plan.hpp"

namespace seatwright::forecast {

struct Known {
    // The head's place on its posts from head to head, about their midpoint.
    double post_clearance = 0, post_span = 0;   // holes less posts; 0 span: not from posts
    std::optional<double> position_sd, yaw_sd;  // given otherwise (find.carry, find.yaw_sd)
    int touched_heads = 0;                      // that the programmed places come from; 0: many
    int touches = 0;                            // on every head, in each setup
    bool touches_planned = false, rezero = false;
    double touch_sd = 0, casting_sd = 0;
    std::vector<double> casting_ratio;  // of casting_sd, a valve: 1 but where learned guide by guide
    double positioning_sd = 0, resolution = 0;
    double level_sd = 0, guide_angle_sd = 0;
    double height_sd = 0, zero_sd = 0;
    bool trimmed = false;     // the zero's error is what trimming on the first seat leaves
    double trim_gauge_u = 0;  // of the gauge the first seat is measured with
    double depth_sd = 0, depth_wear = 0;
    double width_sd = 0, width_wear = 0;
    double pilot_runout = 0, share = 1;
    double play_times = 1, residual_times = 1;  // of the plan's, to ask what half of it would bring
    int heads = 1;
    std::optional<int> change_every;
    std::optional<double> runout_u, width_u, height_u;
    std::array<std::string, 3> gauge_names;  // of the shelf, as prove::Quantity counts; empty: none of it

    // Standard deviations of the head's place: of t per axis and of the yaw, spread by the heads that the
    // programmed places come from.
    double place_sd() const;
    double turn_sd() const;
};

enum class From { record, job, practice };
const char* word(From from);  // "record", "job", "common practice"

struct Input {
    std::string what;  // the key where it has one: "forecast.level_sd", "find.casting_sd"
    double value = 0;  // in `unit`
    const char* unit = "mm";
    From from = From::job;
    // How well it is known: degrees of freedom of an estimated standard deviation; none: taken as it is.
    std::optional<double> dof{};
    double Known::*figure = nullptr;  // which one that is, if it is one number
    double standard_error = 0;        // of a figure that is no standard deviation, memory units
    // Variance of other things taken off what was seen with `dof`, memory units: the figure's square and
    // this.
    double less = 0;
};

struct Collected {
    Known known;
    std::vector<Input> inputs;
    Notices notices;
};

// `proof`: of the job's whole record.
Collected collect(const job::Job& job, const plan::Plan& plan, const prove::Proof& proof);

}  // namespace seatwright::forecast
