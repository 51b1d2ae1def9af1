// Batches of all sorts, for whoever holds one way of working them out against another; invented.
#pragma once

#include <string>
#include <vector>

#include "full_batch.hpp"

namespace seatwright::forecast::test {

struct NamedBatch {
    std::string name;
    Batch batch;
};

// Nothing varies; every limit stands.
inline Batch still_batch() {
    Batch b = full_batch();
    for (Held& held : b.setups) held = {};
    b.zeros = {0, 0};
    b.touch_sd = b.casting_sd = b.positioning_sd = b.guide_angle_sd = 0;
    b.height_sd = b.depth_sd = b.depth_wear = b.width_sd = b.width_wear = 0;
    for (Seat& s : b.seats) {
        s.play = s.pilot_runout = 0;
        s.residual.setZero();
        s.touched = false;
        s.runout_max = 0.05;
        s.planned_height = 47.05;
        s.height = {46.8, 47.35};
    }
    b.stem_spread = 0.12;
    return b;
}

inline Batch with_free_float(Batch b) {
    for (Seat& s : b.seats) s.bend = s.bend_slope = 0;
    b.share = 1;
    return b;
}

inline std::vector<NamedBatch> many_batches() {
    std::vector<NamedBatch> out;
    const auto add = [&](const char* name, Batch batch) { out.push_back({name, std::move(batch)}); };
    const auto alone = [&](const char* name, const auto& change) {
        Batch b = still_batch();
        change(b);
        add(name, std::move(b));
    };
    // Every cause alone.
    alone("posts and yaw alone", [](Batch& b) {
        b.setups[0].pose.diagonal() << 0.01, 0.01, 2e-7;
        b.setups[1].pose.diagonal() << 0.02, 0.01, 1e-7;
    });
    alone("casting alone", [](Batch& b) { b.casting_sd = 0.08; });
    alone("touch with casting", [](Batch& b) {
        b.casting_sd = 0.08;
        b.touch_sd = 0.05;
        for (Seat& s : b.seats) s.touched = true;
    });
    alone("positioning alone", [](Batch& b) { b.positioning_sd = 0.07; });
    alone("play alone", [](Batch& b) {
        for (Seat& s : b.seats) s.play = 0.036;
    });
    alone("pilot runout with play", [](Batch& b) {
        for (Seat& s : b.seats) {
            s.play = 0.03;
            s.pilot_runout = 0.02;
        }
    });
    alone("attitude alone", [](Batch& b) { b.setups[0].level_sd = b.setups[1].level_sd = rad(0.012); });
    alone("guide direction alone", [](Batch& b) { b.guide_angle_sd = rad(0.035); });
    alone("stem heights alone", [](Batch& b) { b.depth_sd = 0.03; });
    // All together.
    add("all together", full_batch());
    add("all together, the float free", with_free_float(full_batch()));
    {
        Batch b = full_batch();  // stiff: the spindle leads
        for (Seat& s : b.seats) s.bend = 0.95;
        b.casting_sd = 0.02;
        b.touch_sd = 0.01;
        for (Held& held : b.setups) held.pose *= 0.01;
        add("a stiff float", std::move(b));
    }
    {
        Batch b = with_free_float(full_batch());
        for (Seat& s : b.seats) {
            s.runout_max = 0.060;
            s.height = {};
            s.width_tol.reset();
        }
        b.stem_spread.reset();
        b.casting_sd = 0.01;
        b.setups[0].pose *= 0.1;
        b.setups[1].pose *= 0.1;
        add("rare failures", std::move(b));
    }
    {
        Batch b = with_free_float(full_batch());  // about one head in 100 000
        for (Seat& s : b.seats) {
            s.runout_max = 0.080;
            s.room = 0.8;
            s.height = {};
            s.width_tol = 0.11;
        }
        b.stem_spread.reset();
        b.width_wear = 0;
        b.casting_sd = 0.01;
        add("failures of one in 100 000", std::move(b));
    }
    {
        Batch b = full_batch();  // the same of a stiff float
        for (Seat& s : b.seats) {
            s.runout_max = 0.155;
            s.room = 0.8;
            s.height = {};
            s.width_tol = 0.11;
        }
        b.stem_spread.reset();
        b.width_wear = 0;
        b.casting_sd = 0.01;
        add("failures of one in 100 000, a stiff float", std::move(b));
    }
    {
        Batch b = full_batch();
        for (Seat& s : b.seats) s.runout_max = 0.03;
        add("next to none good", std::move(b));
    }
    for (const int touches : {0, 2, 8}) {
        Batch b = full_batch();
        for (int i = 0; i < 8; ++i) b.seats[static_cast<std::size_t>(i)].touched = i < touches;
        if (touches == 8)
            for (Held& held : b.setups) held.pose *= 0.3;
        add(touches == 0 ? "no touches" : touches == 2 ? "two touches" : "all touched", std::move(b));
    }
    {
        Batch b = with_free_float(full_batch());  // both kinds in each of two setups
        b.zeros = {0.01, 0.015, 0.012, 0.008};
        for (std::size_t i = 0; i < 8; ++i) {
            b.seats[i].setup = i < 4 ? 0 : 1;
            b.seats[i].zero = 2 * b.seats[i].setup + i % 2;
        }
        b.stem_spread = 0.14;
        add("both kinds in several setups", b);
        for (Seat& s : b.seats) s.height = {};
        for (Seat& s : b.seats) s.bend = 0.3;
        b.share = 0.8;
        add("the same with a stiff float and no limit of height", std::move(b));
    }
    {
        Batch b = with_free_float(full_batch());  // one kind in several, the other not
        b.zeros = {0.01, 0.015, 0.012, 0.008};
        for (std::size_t i = 0; i < 8; ++i) {
            b.seats[i].setup = i % 2 == 0 && i >= 4 ? 1 : i % 2;
            b.seats[i].zero = i % 2 == 1 ? 2 : i < 4 ? 0 : 1;
            b.seats[i].height = {std::nullopt, 47.25};
        }
        add("one kind in several setups", std::move(b));
    }
    {
        Batch b = with_free_float(full_batch());
        for (Seat& s : b.seats) {
            s.height = {};
            s.planned_height = 47;
        }
        b.stem_spread = 0.1;
        for (Held& held : b.setups) held.level_sd = rad(0.02);
        add("stem spread deciding", std::move(b));
    }
    {
        Batch b = with_free_float(full_batch());
        for (Seat& s : b.seats) s.play = s.pilot_runout = 0;
        b.guide_angle_sd = 0;
        add("no play, no pilot runout, no guide direction", std::move(b));
    }
    {
        Batch b = full_batch();  // one zero for both kinds
        for (Seat& s : b.seats) s.setup = s.zero = 0;
        b.setups.pop_back();
        b.zeros = {0.02};
        add("one cutter for both kinds", std::move(b));
    }
    return out;
}

}  // namespace seatwright::forecast::test
