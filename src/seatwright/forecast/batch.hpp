// A batch of heads as numbers: what the forecast draws or integrates. Made from a job by inputs.hpp; tests
// make their own. Lengths mm, angles rad; standard uncertainties u (U = 2u).
#pragma once

#include <cmath>
#include <cstddef>
#include <optional>
#include <vector>

#include "seatwright/base/vec.hpp"
#include "seatwright/job/head.hpp"

namespace seatwright::forecast {

struct Window {
    std::optional<double> low, high;
    bool open() const { return !low && !high; }
};

struct Seat {
    std::size_t valve = 0;  // index into job.head.valves
    job::Kind kind = job::Kind::intake;
    std::size_t setup = 0;           // index into Batch::setups
    std::size_t zero = 0;            // which Z zero it is cut from, of Batch::zeros
    Vec2 from_posts = Vec2::Zero();  // its place in the map from the midpoint of the posts
    Vec2 from_zero = Vec2::Zero();   // and from where its Z was zeroed
    double angle = 0;                // of the seat face
    double gauge = 0;                // diameter of its gauge circle
    std::optional<double> room;      // c = (mouth − tip)/2; none: not known, every pilot is taken to enter
    double bend = 0;                 // b = k_s/(k_s + k_p): what of a miss bends the pilot
    double bend_slope = 0;           // 1.5/l: slope of the bent pilot's end for each mm
    double play = 0;                 // radius of the disc it plays in
    double pilot_runout = 0;         // full swing
    Vec2 residual = Vec2::Zero();    // out of plumb in its setup
    bool touched = false;
    std::optional<double> casting_sd;  // learned of this guide; none: the batch's
    std::optional<double> runout_max;
    double width = 0;      // as drawn
    double width_off = 0;  // what its blade leaves, less that
    std::optional<double> width_tol;
    std::optional<double> planned_height;  // of the stem; none: spread alone is judged
    Window height;
    double place = 0;            // among the seats of its cutter on a head, from 0
    double seats_of_cutter = 1;  // n_c
};

// One setup of the head.
struct Held {
    Mat3 pose = Mat3::Zero();  // covariance of (t'x, t'y, θ')
    double level_sd = 0;       // attitude error from head to head, per axis
};

struct Batch {
    std::vector<Held> setups;
    std::vector<Seat> seats;
    std::vector<double> zeros;  // standard deviation of each Z zero
    double touch_sd = 0, casting_sd = 0;
    double positioning_sd = 0;  // the readout's step included
    double share = 1;           // of the plumb error that the float leaves
    double guide_angle_sd = 0;
    double height_sd = 0;
    double depth_sd = 0, depth_wear = 0;  // wear: mm a seat, signed
    double width_sd = 0, width_wear = 0;
    std::optional<double> stem_spread;  // within each kind, over the whole head
    int heads = 1;
    std::optional<int> change_every;                    // heads between changes of the blade
    std::optional<double> runout_u, width_u, height_u;  // of the gauges; none: no verdict can be said

    double gain(const Seat& seat) const {  // s_v: what of the pose error is left at a guide
        const double own = seat.casting_sd.value_or(casting_sd);
        const double touch = touch_sd * touch_sd, casting = own * own;
        return !seat.touched ? 1 : touch + casting > 0 ? touch / (touch + casting) : 0;
    }
    double own_sd(const Seat& seat) const {  // τ_v
        const double own = seat.casting_sd.value_or(casting_sd);
        const double touch = touch_sd * touch_sd, casting = own * own;
        if (!seat.touched) return own;
        return touch + casting > 0 ? touch_sd * own / std::sqrt(touch + casting) : 0;
    }
};

}  // namespace seatwright::forecast
