// A head held and shaped for tests of cut, without the stages find and shape: the section by its closed form,
// every seat cut 0.15 mm deep from its drawing place. Invented data.
#pragma once

#include <cmath>

#include "job_fixtures.hpp"
#include "seatwright/cut/cut.hpp"

namespace seatwright::fixtures {

inline shape::Section section_of(const job::ValveForm& valve, const job::SeatForm& seat) {
    shape::Section section;
    section.contact_od = seat.contact_diameter.value_or(valve.head_diameter - 2 * seat.inset.value_or(0));
    section.contact_id = section.contact_od - 2 * seat.width * std::cos(seat.angle);
    section.gauge = 0.5 * (section.contact_od + section.contact_id);
    const double half = 0.5 * seat.width * std::sin(seat.angle);
    std::vector<Vec2> points{{0.5 * section.contact_id, -half}};
    for (const job::Facet& f : seat.throat)
        points.insert(points.begin(), points.front() - f.width * Vec2(std::cos(f.angle), std::sin(f.angle)));
    points.emplace_back(0.5 * section.contact_od, half);
    for (const job::Facet& f : seat.top)
        points.push_back(points.back() + f.width * Vec2(std::cos(f.angle), std::sin(f.angle)));
    section.points = points;
    return section;
}

struct Shaped {
    job::Job job;
    hold::Hold hold;
    find::Find find;
    shape::Shape shape;
    cut::Cut plan() const { return cut::plan(job, hold, find, shape); }
};

inline Shaped shaped(job::Job job, double depth = 0.15) {
    Shaped s;
    if (job.readings.guides.empty()) job = with_guides_read(std::move(job));
    s.hold = hold::plan(job);
    s.shape.head = "1";
    for (std::size_t v = 0; v < job.head.valves.size(); ++v) {
        const job::Kind kind = job.head.valves[v].kind;
        shape::Seat seat;
        seat.valve = v;
        seat.section = section_of(*job.valve[kind], *job.seat[kind]);
        seat.cutter = 0;
        seat.blade_setting = seat.section.gauge;
        seat.depth = depth;
        for (const auto& setup : s.hold.setups)
            for (const auto& held : setup.valves)
                if (held.valve == v) seat.program_z = held.map.z() - depth;
        s.shape.seats.push_back(seat);
        s.find.pilots.push_back({v, 1, 0.0, false, {}, 0.0});
    }
    s.job = std::move(job);
    return s;
}

}  // namespace seatwright::fixtures
