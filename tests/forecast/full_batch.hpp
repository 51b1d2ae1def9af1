// A batch in which everything varies; invented.
#pragma once

#include "seatwright/base/units.hpp"
#include "seatwright/forecast/batch.hpp"

namespace seatwright::forecast::test {

// Two setups, touched and untouched guides, everything that varies.
inline Batch full_batch() {
    Batch b;
    Held one, other;
    one.pose << 0.002, 0, 1e-6, 0, 0.003, -2e-6, 1e-6, -2e-6, 4e-8;
    one.level_sd = rad(0.02);
    other.pose.diagonal() << 0.004, 0.004, 1e-8;
    other.level_sd = rad(0.015);
    b.setups = {one, other};
    b.zeros = {0.01, 0.015};
    for (int i = 0; i < 8; ++i) {
        Seat s;
        s.kind = i % 2 == 0 ? job::Kind::intake : job::Kind::exhaust;
        s.setup = s.zero = i % 2 == 0 ? 0 : 1;
        s.from_posts = {-150.0 + 40 * i, 12.0 - 3 * i};
        s.from_zero = {40.0 * i, 5};
        s.angle = rad(45);
        s.gauge = i % 2 == 0 ? 44 : 38;
        s.room = 0.35;
        s.bend = 0.3;
        s.bend_slope = 0.02;
        s.play = 0.006;
        s.pilot_runout = 0.008;
        s.residual = {rad(0.01), rad(-0.02)};
        s.touched = i < 4;
        s.runout_max = 0.08;
        s.width = 1.5;
        s.width_tol = 0.08;
        s.planned_height = 47.0 + 0.01 * i;
        s.height = {46.8, 47.25};
        s.place = i / 2;
        s.seats_of_cutter = 4;
        b.seats.push_back(s);
    }
    b.touch_sd = 0.02;
    b.casting_sd = 0.06;
    b.positioning_sd = 0.01;
    b.share = 0.8;
    b.guide_angle_sd = rad(0.015);
    b.height_sd = 0.015;
    b.depth_sd = 0.01;
    b.depth_wear = 0.0004;
    b.width_sd = 0.02;
    b.width_wear = 0.0005;
    b.stem_spread = 0.2;
    b.heads = 20;
    b.change_every = 8;
    b.runout_u = 0.003;
    b.width_u = 0.006;
    b.height_u = 0.008;
    return b;
}

}  // namespace seatwright::forecast::test
