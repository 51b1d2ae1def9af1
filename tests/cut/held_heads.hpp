// Heads held in a setup, for what the read-back expects of them. Invented data but for the canted setup,
// which is the one of working.md's worked figures: incline 22, cant 4, tilt 21.9515, swing -4.
#pragma once

#include <optional>

#include "job_fixtures.hpp"
#include "seatwright/cut/expect.hpp"

namespace seatwright::cut {

struct Canted {
    job::Job job = fixtures::wedge_job(2, 236, 22);
    hold::Setup setup;
    ExpectedFor what;

    Canted() {
        // 1I is the datum; 2I stands for the 3I of the worked figures.
        std::erase_if(job.head.valves, [](const job::Valve& v) { return v.kind == job::Kind::exhaust; });
        for (job::Valve& valve : job.head.valves) {
            valve.cant = rad(4);
            valve.seat = Vec3(valve.id == "1I" ? -24.5 : 211.5, 9, -12);
        }
        job.depth.deck_cut = 0.10;
        setup.id = "A";
        setup.datum = 0;
        setup.tilt = rad(21.9515);
        setup.swing = rad(-4);
        for (std::size_t v = 0; v < 2; ++v) {
            hold::Held held;
            held.valve = v;
            setup.valves.push_back(held);
        }
        what.head = "1";
        what.seats = {{-0.44, 0.25}, {-0.42, 0.27}};
    }
    Expected expected() const { return expect(job, setup, what); }
    CutterZero zero(shape::ZeroOn on, std::optional<std::size_t> valve = std::nullopt) const {
        CutterZero out;
        out.taken.on = on;
        out.taken.valve = valve;
        return out;
    }
    std::optional<double> height(const CutterZero& zero) const {
        return zero_height(expected(), job, zero, job.cutters[0]);
    }
};

// Upright, so that a_z is 1, its deck cut by 0.20; drawn 1.00 below the deck.
struct Read : Canted {
    Read() {
        for (job::Valve& valve : job.head.valves) valve.incline = valve.cant = 0;
        setup.tilt = setup.swing = 0;
        job.depth.deck_cut = 0.20;
        job.seat.intake->below_deck = 1.00;
        job.seat.intake->recession_max = 1.0;
    }
    job::SeatBefore& read() {
        job.readings.seats.emplace_back();
        job.readings.seats.back().valve = "1I";
        return job.readings.seats.back();
    }
    std::optional<double> recession() const { return expected().seats[0].recession; }
};

}  // namespace seatwright::cut
