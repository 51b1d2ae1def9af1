// A whole head planned to programs by all stages, with everything a way of working may ask for on the shelf.
// Invented data.
#pragma once

#include "job_fixtures.hpp"
#include "seatwright/cut/cut.hpp"
#include "seatwright/cut/expect.hpp"

namespace seatwright::fixtures {

// Cylinders in one row, all read and touched; float and top words of the control.
inline job::Job programmed_job(int cylinders = 3) {
    job::Job job = wedge_job(cylinders);
    for (job::Pilot& pilot : job.pilots) {
        pilot.reach = 176;
        pilot.gauge_at = 124;
        pilot.slide = 30;
        pilot.length = 150;
        pilot.above = 95;
        pilot.count = 8;
    }
    job.cutters[0].drop = 60;
    job.cutters[0].lowest = 3;
    job.cutters[0].body = 30;
    job.cutters[0].bore_depth = 60;
    for (const auto kind : job::both_kinds) job.guide[kind]->below = 40;
    job.machine.travel_z = 500;
    job.machine.tool_float = job::Float{job::Float::Kind::commanded, "M62 P1", "M63 P1", "M64 P1"};
    job.machine.load_at = Vec2(-60, -100);
    job.machine.measure_at = Vec2(-50, -90);
    job.dialect.top = "G53 G0 Z0";
    double recession = 0.20;
    for (const job::Valve& valve : job.head.valves) {
        job::GuideBore bore;
        bore.valve = valve.id;
        bore.top = bore.middle = bore.bottom = 8.714;
        job.readings.guides.push_back(bore);
        job::SeatBefore seat;
        seat.valve = valve.id;
        seat.recession = recession += 0.01;
        seat.cleanup = 0.12;
        job.readings.seats.push_back(seat);
    }
    return job;
}

// Touches of every guide, each off its place by a hundredth or so.
inline void touch_all(job::Job& job, const hold::Hold& hold) {
    int turn = 0;
    for (const hold::Setup& setup : hold.setups)
        for (const hold::Held& held : setup.valves) {
            job::Touch touch;
            touch.valve = job.head.valves[held.valve].id;
            touch.at = held.readout + 0.01 * Vec2(turn % 3 - 1, turn % 2);
            if (held.valve == setup.datum) touch.at = Vec2::Zero();
            job.readings.touches.push_back(touch);
            ++turn;
        }
}

struct Programmed {
    job::Job job;
    hold::Hold hold;
    find::Find find;
    shape::Shape shape;
    cut::Cut cut;
    cut::Expected expected(const cut::Program& program) const {
        return cut::expected_in({job, hold, find, shape}, hold.setups.at(program.route.setup));
    }
};

inline Programmed planned(job::Job job) {
    Programmed p;
    p.hold = hold::plan(job);
    if (job.readings.touches.empty()) touch_all(job, p.hold);
    p.find = find::locate(job, p.hold);
    p.shape = shape::design(job, p.hold, p.find, "1");
    p.cut = cut::plan(job, p.hold, p.find, p.shape);
    p.job = std::move(job);
    return p;
}

// With the first seats measured as planned: the second files, which cut every seat.
inline Programmed programmed(job::Job job) {
    Programmed first = planned(std::move(job));
    for (const cut::Program& program : first.cut.programs)
        for (const cut::Stop& stop : program.route.stops) {
            if (program.route.part != cut::FilePart::first) continue;
            job::FirstSeat reading;
            reading.valve = stop.id;
            reading.depth = stop.depth;
            first.job.readings.firsts.push_back(reading);
        }
    return first.job.readings.firsts.empty() ? std::move(first) : planned(std::move(first.job));
}

}  // namespace seatwright::fixtures
