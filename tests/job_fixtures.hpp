// Jobs built in code for tests that must not depend on the job-file reader. Invented data.
#pragma once

#include <fmt/format.h>

#include <algorithm>

#include "seatwright/job/job.hpp"

namespace seatwright::fixtures {

// Two valves a cylinder in one row, all guides inclined alike; mm. Everything every stage needs.
inline job::Job wedge_job(int cylinders = 4, double spacing = 112.0, double incline_deg = 19.5) {
    job::Job job;
    job.title = "invented wedge head";
    job.file = "wedge.toml";
    job.head.name = "wedge";
    job.head.material = "grey iron";
    job.head.mass = 21;
    job.head.cylinders = cylinders;
    job.head.bore_spacing = spacing;
    job.head.bolt_hole_diameter = 13.5;
    for (int k = 1; k <= cylinders; ++k) {
        const double x = (k - 1) * spacing;
        job.head.valves.push_back(
            {fmt::format("{}E", k), k, job::Kind::exhaust, Vec3(x - 22, 4, -9), rad(incline_deg), 0});
        job.head.valves.push_back(
            {fmt::format("{}I", k), k, job::Kind::intake, Vec3(x + 22, 4, -9), rad(incline_deg), 0});
    }
    for (int k = 0; k <= cylinders; ++k)
        for (const double y : {-50.0, 50.0}) job.head.bolt_holes.emplace_back((k - 0.5) * spacing, y);
    job.valve.intake = job::ValveForm{44.5, rad(45), 8.7, 1.5};
    job.valve.exhaust = job::ValveForm{38.1, rad(45), 8.7, 1.5};
    for (const auto kind : job::both_kinds) {
        job::SeatForm seat;
        seat.angle = rad(45);
        seat.width = 1.5;
        seat.inset = 0.5;
        seat.top = {{rad(30), 1.0}};
        seat.throat = {{rad(60), 1.2}};
        seat.width_tol = 0.2;
        seat.runout_max = 0.05;
        seat.stem_height = 47.5;
        seat.stem_height_max = 48.5;
        seat.recession_max = 1.0;
        seat.tip_grind_max = 0.25;
        seat.material = "grey iron";
        seat.old_as_drawn = true;  // a new head: a seat nobody read stands as drawn
        job.seat[kind] = seat;
        job::GuideForm guide;
        guide.bore = 8.73;
        guide.bore_max = 8.83;
        guide.bell_max = 0.025;
        guide.length = 55;
        guide.mouth = 9.5;
        guide.to_seat = 40;
        guide.below = 40;
        job.guide[kind] = guide;
    }
    job.depth.step = 0.01;
    job.depth.stem_spread = 0.3;
    job.depth.cleanup_margin = 0.02;
    job.find.touch_sd = 0.02;
    job.find.casting_sd = 0.08;
    job.find.yaw_sd = rad(0.1);
    job.find.positioning_sd = 0.005;
    job.machine.name = "invented machine";
    job.machine.travel_x = 900;
    job.machine.travel_y = 300;
    job.machine.travel_z = 250;
    job.machine.resolution = 0.001;
    job.machine.rpm_min = 60;
    job.machine.rpm_max = 1500;
    job.machine.rpm_step = 5;
    job.machine.power = 2200;
    job.machine.torque = 40'000;
    job.machine.rapid = 100;
    job.machine.accel = 500;
    job.machine.float_stiffness = 2'000;
    job.machine.axial_stiffness = 20'000;
    job.machine.mode = job::Mode{180, 12'000, 0.04};
    job.fixture.name = "roll-over cradle";
    job.fixture.tilt = {rad(-30), rad(50)};
    job.fixture.swing = {0, 0};
    job.fixture.plumb_limit = rad(0.05);
    job.fixture.post_diameter = 12.7;
    job.fixture.clamp_force = 6000;
    job.fixture.friction = 0.15;
    job.fixture.mass_max = 60;
    job.fixture.post_span = job::Range{50, 2000};
    job.fixtures = {job.fixture};
    job.pilots = {{"8.71", job::PilotStyle::tapered, 8.71, 0.0005, 80, 8.4},
                  {"8.73", job::PilotStyle::tapered, 8.73, 0.0005, 80, 8.4},
                  {"8.72 live", job::PilotStyle::parallel, 8.72, 0, 80, 8.4}};
    // From the holder's face down, so that one holder takes them all.
    for (auto& pilot : job.pilots) {
        pilot.reach = 130;
        pilot.gauge_at = 82;
        pilot.slide = 40;
        pilot.above = 75;
    }
    job.cutters = {{"three-face 45", {{rad(60), 1.6}, {rad(45), 1.7}, {rad(30), 1.4}}, {30, 50}, 1}};
    job.cutters[0].drop = 20;
    job.cutters[0].lowest = 2.1;
    job.cutters[0].body = 28;
    job.cutters[0].bore_depth = 60;
    job::Material iron;
    iron.name = "grey iron";
    iron.kc11 = 1150;  // VDI 3323 group, 180 HB
    iron.mc = 0.20;
    iron.speed = job::Range{20, 40};
    iron.feed = job::Range{0.02, 0.05};
    iron.modulus = 110'000;
    iron.poisson = 0.26;
    iron.expansion = 11.4e-6;
    job.materials = {iron};
    return job;
}

// Each guide of head 1 read, straight, so that the pilot of 8.73 locks 10 mm below its top.
inline job::Job with_guides_read(job::Job job) {
    for (const job::Valve& valve : job.head.valves)
        job.readings.guides.push_back({"1", valve.id, 8.735, 8.735, 8.735});
    return job;
}

// The same with intakes and exhausts in two opposite rows, as a pent roof has them; mm. The stems lean apart
// into the head, so that each row's axes, directed out of it, lean towards the other row.
inline job::Job pent_roof_job(int cylinders = 4, double spacing = 88.0, double half_angle_deg = 16) {
    job::Job job = wedge_job(0, spacing, 0);
    job.title = "invented pent-roof head";
    job.head.name = "pent roof";
    job.head.cylinders = cylinders;
    job.head.valves.clear();
    job.head.bolt_holes.clear();
    for (int k = 1; k <= cylinders; ++k) {
        const double x = (k - 1) * spacing;
        for (const double side : {-1.0, 1.0}) {
            const char letter = side < 0 ? 'a' : 'b';
            job.head.valves.push_back({fmt::format("{}E{}", k, letter), k, job::Kind::exhaust,
                                       Vec3(x + side * 17, -18, -6), rad(half_angle_deg), 0});
            job.head.valves.push_back({fmt::format("{}I{}", k, letter), k, job::Kind::intake,
                                       Vec3(x + side * 18.5, 19, -6), rad(-half_angle_deg), 0});
        }
    }
    std::sort(job.head.valves.begin(), job.head.valves.end(), [](const auto& a, const auto& b) {
        return a.seat.x() != b.seat.x() ? a.seat.x() < b.seat.x() : a.seat.y() < b.seat.y();
    });
    for (int k = 0; k <= cylinders; ++k)
        for (const double y : {-46.0, 46.0}) job.head.bolt_holes.emplace_back((k - 0.5) * spacing, y);
    job.valve.intake->head_diameter = 34;
    job.valve.exhaust->head_diameter = 29;
    job.cutters[0].gauge_diameter = {24, 50};
    return job;
}

}  // namespace seatwright::fixtures
