// Jobs and holds built by hand for find's tests; invented data.
#pragma once

#include <random>

#include "job_fixtures.hpp"
#include "seatwright/find/find.hpp"

namespace seatwright::fixtures {

// One setup holding every valve at the attitude given, datum the first valve: what hold would say.
inline hold::Hold hold_of(const job::Job& job, double tilt = 0, double swing = 0) {
    hold::Hold hold;
    hold::Setup setup;
    setup.id = "A";
    setup.tilt = tilt;
    setup.swing = swing;
    if (job.head.datum) setup.datum = *job.head.index_of(*job.head.datum);
    const Mat3 r = setup.rotation();
    for (std::size_t v = 0; v < job.head.valves.size(); ++v) {
        hold::Held held;
        held.valve = v;
        held.map = r * (job.head.valves[v].seat - job.head.valves[setup.datum].seat);
        held.readout = Vec2(job.machine.x_sign * held.map.x(), job.machine.y_sign * held.map.y());
        setup.valves.push_back(held);
    }
    hold.setups.push_back(setup);
    return hold;
}

// A head lying at `yaw`, `offset`, its casting deviations drawn, touched at `valves`.
struct Simulated {
    job::Job job;
    std::vector<Vec2> truth;  // by valve
};

inline Simulated simulate(job::Job job, const hold::Hold& hold, const std::vector<std::size_t>& valves,
                          double yaw, Vec2 offset, std::mt19937_64& random, const std::string& head = "1") {
    std::normal_distribution<double> normal;
    const hold::Setup& setup = hold.setups.front();
    const Mat2 turn = plane_rotation(yaw);
    Simulated made{std::move(job), std::vector<Vec2>(setup.valves.size())};
    for (std::size_t v = 0; v < setup.valves.size(); ++v) {
        const Vec2 own(normal(random), normal(random));
        made.truth[v] = turn * (setup.valves[v].readout + made.job.find.casting_sd * own) + offset;
    }
    for (const std::size_t v : valves) {
        const Vec2 error(normal(random), normal(random));
        made.job.readings.touches.push_back({head, made.job.head.valves[v].id,
                                             made.truth[v] + made.job.find.touch_sd * error, std::nullopt,
                                             0});
    }
    return made;
}

}  // namespace seatwright::fixtures
