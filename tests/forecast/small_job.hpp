// A small head for whoever asks a forecast of a job; invented.
#pragma once

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <cmath>
#include <memory>
#include <string>

#include "seatwright/forecast/forecast.hpp"
#include "seatwright/job/reader.hpp"
#include "seatwright/plan/run.hpp"

namespace seatwright::forecast::test {

// An invented head with upright guides, gauge circle 48, its posts 400 apart about (0, 0), a parallel pilot
// that turns with the tool; nothing varies but what `more` and `figures` say.
struct Figures {
    std::string valves =
        "[[head.valve]]\nid = \"1I\"\ncylinder = 1\nkind = \"intake\"\nx = 0\ny = 0\nz = 0\nincline = "
        "0\ncant = 0\n";
    double clearance = 0;  // of the posts
    double mouth = 11, tip = 10;
    double pilot = 10;  // diameter in a bore of 10
    const char* style = "live";
    double stiffness = 0;  // N/um of the float; 0 = not given
    std::string seat, find, forecast, more;
};

inline std::string job_text(const Figures& f) {
    return fmt::format(R"(title = "a case"
units = "mm"
[head]
name = "h"
material = "grey iron"
mass = "20 kg"
bolt_holes = [[-200, 0], [200, 0]]
bolt_hole_diameter = 13
{}
[valve.intake]
head_diameter = 50
[seat.intake]
angle = 45
width = 1.4142135623730951
contact_diameter = 49
{}
[guide.intake]
bore = 10
length = 50
mouth = {}
to_seat = 50
[find]
touch_sd = 0.01
{}
[machine]
resolution = 1e-9
{}
[fixture]
tilt = ["-30 deg", "30 deg"]
swing = ["0 deg", "0 deg"]
post_diameter = {}
[[pilot]]
name = "p"
style = "{}"
diameter = {}
free_length = 60
tip = {}
[cut]
first_stop = false
[forecast]
{}
{}
)",
                       f.valves, f.seat, f.mouth, f.find,
                       f.stiffness > 0 ? fmt::format("float_stiffness = {:.17g}", f.stiffness) : "",
                       13 - f.clearance, f.style, f.pilot, f.tip, f.forecast, f.more);
}

inline const char* const nothing = R"(
level_sd = 0
guide_angle_sd = 0
height_sd = 0
zero_sd = 0
depth_sd = 0
width_sd = 0
pilot_runout = 0
)";

inline job::Job job_of(const Figures& f) {
    auto read = job::read_job(job_text(f), "case.toml", {});
    if (!read) {
        for (const auto& fault : read.error()) ADD_FAILURE() << to_line(fault);
        return {};
    }
    return std::move(*read);
}

inline Forecast forecast_of(const Figures& f, const Asked& asked = {}) {
    const job::Job job = job_of(f);
    const std::shared_ptr<const job::Job> shared(std::shared_ptr<const job::Job>(), &job);
    plan::Run run(shared, {});
    return forecast(job, run.plan(), run.proof(), asked);
}

inline Asked quick() {
    Asked asked;
    asked.changes = asked.limits = false;
    return asked;
}

inline std::string guide(const char* id, double x, double y) {
    return fmt::format(
        "[[head.valve]]\nid = \"{}\"\ncylinder = 1\nkind = \"intake\"\nx = {}\ny = {}\nz = 0\nincline = "
        "0\ncant = 0\n",
        id, x, y);
}

// k_p = 3EI/l³ of the pilot above, N/mm, and the float that makes k_s/(k_s + k_p) = b.
inline double float_for(double b) {
    const double pilot = 3 * 210000.0 * M_PI * std::pow(10.0, 4) / 64 / std::pow(60.0, 3);
    return b / (1 - b) * pilot / 1000;
}

}  // namespace seatwright::forecast::test
