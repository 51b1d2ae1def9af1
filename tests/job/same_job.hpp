// Compares two jobs number by number; says where they differ.
#pragma once

#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "seatwright/job/job.hpp"

namespace seatwright::job::test {

class SameJob {
  public:
    explicit SameJob(double tolerance) : tolerance_(tolerance) {}

    void number(const std::string& what, double a, double b) const {
        EXPECT_NEAR(a, b, tolerance_ * std::max(1.0, std::abs(a))) << what;
    }
    void number(const std::string& what, const std::optional<double>& a,
                const std::optional<double>& b) const {
        ASSERT_EQ(a.has_value(), b.has_value()) << what;
        if (a) number(what, *a, *b);
    }
    template <class V>
    void vector(const std::string& what, const V& a, const V& b) const {
        for (int i = 0; i < a.size(); ++i) number(what, a[i], b[i]);
    }
    void heads(const Head& a, const Head& b) const {
        EXPECT_EQ(a.name, b.name);
        EXPECT_EQ(a.datum, b.datum);
        EXPECT_EQ(a.posts, b.posts);
        number("mass", a.mass, b.mass);
        number("bolt_hole_diameter", a.bolt_hole_diameter, b.bolt_hole_diameter);
        number("bore_spacing", a.bore_spacing, b.bore_spacing);
        ASSERT_EQ(a.valves.size(), b.valves.size());
        for (std::size_t i = 0; i < a.valves.size(); ++i) {
            EXPECT_EQ(a.valves[i].id, b.valves[i].id);
            EXPECT_EQ(a.valves[i].kind, b.valves[i].kind);
            EXPECT_EQ(a.valves[i].cylinder, b.valves[i].cylinder);
            vector("seat " + a.valves[i].id, a.valves[i].seat, b.valves[i].seat);
            number("incline " + a.valves[i].id, a.valves[i].incline, b.valves[i].incline);
            number("cant " + a.valves[i].id, a.valves[i].cant, b.valves[i].cant);
        }
        ASSERT_EQ(a.bolt_holes.size(), b.bolt_holes.size());
        for (std::size_t i = 0; i < a.bolt_holes.size(); ++i)
            vector("bolt hole", a.bolt_holes[i], b.bolt_holes[i]);
        ASSERT_EQ(a.obstacles.size(), b.obstacles.size());
        for (std::size_t i = 0; i < a.obstacles.size(); ++i) {
            vector("obstacle", a.obstacles[i].centre, b.obstacles[i].centre);
            number("obstacle", a.obstacles[i].diameter, b.obstacles[i].diameter);
        }
    }
    void jobs(const Job& a, const Job& b) const {
        heads(a.head, b.head);
        for (const Kind kind : both_kinds) forms(a, b, kind);
        number("step", a.depth.step, b.depth.step);
        number("stem_spread", a.depth.stem_spread, b.depth.stem_spread);
        number("chamber_spread", a.depth.chamber_spread, b.depth.chamber_spread);
        EXPECT_EQ(a.depth.plan, b.depth.plan);
        number("deck_cut", a.depth.deck_cut, b.depth.deck_cut);
        number("swept", a.depth.swept, b.depth.swept);
        number("touch_sd", a.find.touch_sd, b.find.touch_sd);
        number("yaw_sd", a.find.yaw_sd, b.find.yaw_sd);
        number("carry", a.find.carry->sd, b.find.carry->sd);
        vector("carry", a.find.carry->offset, b.find.carry->offset);
        number("travel_x", a.machine.travel_x, b.machine.travel_x);
        number("resolution", a.machine.resolution, b.machine.resolution);
        number("power", a.machine.power, b.machine.power);
        number("torque", a.machine.torque, b.machine.torque);
        number("rapid", a.machine.rapid, b.machine.rapid);
        number("accel", a.machine.accel, b.machine.accel);
        number("float", a.machine.float_stiffness, b.machine.float_stiffness);
        number("tilt", a.fixture.tilt.low, b.fixture.tilt.low);
        number("clamp", a.fixture.clamp_force, b.fixture.clamp_force);
        number("span", a.fixture.post_span->high, b.fixture.post_span->high);
        number("pilot", a.pilots[0].diameter, b.pilots[0].diameter);
        number("pilot", a.pilots[0].taper, b.pilots[0].taper);
        number("cutter", a.cutters[0].facets[1].width, b.cutters[0].facets[1].width);
        number("cutter", a.cutters[0].gauge_diameter.high, b.cutters[0].gauge_diameter.high);
        number("kc11", a.materials[0].kc11, b.materials[0].kc11);
        number("speed", a.materials[0].speed->high, b.materials[0].speed->high);
        number("feed", a.materials[0].feed->low, b.materials[0].feed->low);
        readings(a.readings, b.readings);
    }

    void readings(const Readings& a, const Readings& b) const {
        ASSERT_EQ(a.touches.size(), b.touches.size());
        for (std::size_t i = 0; i < a.touches.size(); ++i) {
            common(a.touches[i], b.touches[i]);
            vector("touch", a.touches[i].at, b.touches[i].at);
            number("touch sd", a.touches[i].sd, b.touches[i].sd);
            EXPECT_EQ(a.touches[i].keep, b.touches[i].keep);
        }
        ASSERT_EQ(a.levels.size(), b.levels.size());
        for (std::size_t i = 0; i < a.levels.size(); ++i) {
            common(a.levels[i], b.levels[i]);
            EXPECT_EQ(a.levels[i].across, b.levels[i].across);
            number("level", a.levels[i].first, b.levels[i].first);
            number("level", a.levels[i].second, b.levels[i].second);
        }
        ASSERT_EQ(a.guides.size(), b.guides.size());
        for (std::size_t i = 0; i < a.guides.size(); ++i) {
            common(a.guides[i], b.guides[i]);
            number("top", a.guides[i].top, b.guides[i].top);
            number("middle", a.guides[i].middle, b.guides[i].middle);
            number("bottom", a.guides[i].bottom, b.guides[i].bottom);
        }
        ASSERT_EQ(a.seats.size(), b.seats.size());
        for (std::size_t i = 0; i < a.seats.size(); ++i) {
            common(a.seats[i], b.seats[i]);
            number("stem_height", a.seats[i].stem_height, b.seats[i].stem_height);
            number("rest_z", a.seats[i].rest_z, b.seats[i].rest_z);
            number("below_deck", a.seats[i].below_deck, b.seats[i].below_deck);
            number("face_outside", a.seats[i].face_outside, b.seats[i].face_outside);
            number("face_width", a.seats[i].face_width, b.seats[i].face_width);
            EXPECT_EQ(a.seats[i].valve_used, b.seats[i].valve_used);
            EXPECT_EQ(a.seats[i].after_deck_cut, b.seats[i].after_deck_cut);
            number("recession", a.seats[i].recession, b.seats[i].recession);
            number("cleanup", a.seats[i].cleanup, b.seats[i].cleanup);
            number("chamber", a.seats[i].chamber, b.seats[i].chamber);
            ASSERT_EQ(a.seats[i].section.size(), b.seats[i].section.size());
            for (std::size_t j = 0; j < a.seats[i].section.size(); ++j)
                vector("section", a.seats[i].section[j], b.seats[i].section[j]);
        }
        ASSERT_EQ(a.proofs.size(), b.proofs.size());
        for (std::size_t i = 0; i < a.proofs.size(); ++i) {
            common(a.proofs[i], b.proofs[i]);
            list("trace", a.proofs[i].trace, b.proofs[i].trace);
            list("angles", a.proofs[i].angles, b.proofs[i].angles);
            list("width", a.proofs[i].width, b.proofs[i].width);
            number("runout", a.proofs[i].runout, b.proofs[i].runout);
            number("stem_height", a.proofs[i].stem_height, b.proofs[i].stem_height);
            number("vacuum", a.proofs[i].vacuum, b.proofs[i].vacuum);
            number("gauge_u", a.proofs[i].gauge_u, b.proofs[i].gauge_u);
            number("resolution", a.proofs[i].resolution, b.proofs[i].resolution);
            number("vacuum_after", a.proofs[i].vacuum_after, b.proofs[i].vacuum_after);
            number("vacuum_seconds", a.proofs[i].vacuum_seconds, b.proofs[i].vacuum_seconds);
            EXPECT_EQ(a.proofs[i].by, b.proofs[i].by);
            EXPECT_EQ(a.proofs[i].gauge, b.proofs[i].gauge);
            EXPECT_EQ(a.proofs[i].calibrated, b.proofs[i].calibrated);
            EXPECT_EQ(a.proofs[i].cutter, b.proofs[i].cutter);
            EXPECT_EQ(a.proofs[i].accepted_by, b.proofs[i].accepted_by);
        }
        ASSERT_EQ(a.firsts.size(), b.firsts.size());
        for (std::size_t i = 0; i < a.firsts.size(); ++i) {
            common(a.firsts[i], b.firsts[i]);
            number("depth", a.firsts[i].depth, b.firsts[i].depth);
            number("stem_height", a.firsts[i].stem_height, b.firsts[i].stem_height);
            number("below_deck", a.firsts[i].below_deck, b.firsts[i].below_deck);
            number("gauge_u", a.firsts[i].gauge_u, b.firsts[i].gauge_u);
            EXPECT_EQ(a.firsts[i].trimmed, b.firsts[i].trimmed);
        }
    }

  private:
    template <class Reading>
    void common(const Reading& a, const Reading& b) const {
        EXPECT_EQ(a.head, b.head);
        EXPECT_EQ(a.valve, b.valve);
        EXPECT_EQ(a.sure, b.sure);
        EXPECT_EQ(a.date, b.date);
    }
    void forms(const Job& a, const Job& b, Kind kind) const {
        number("head_diameter", a.valve[kind]->head_diameter, b.valve[kind]->head_diameter);
        number("stem_diameter", a.valve[kind]->stem_diameter, b.valve[kind]->stem_diameter);
        number("angle", a.seat[kind]->angle, b.seat[kind]->angle);
        number("width", a.seat[kind]->width, b.seat[kind]->width);
        number("inset", a.seat[kind]->inset, b.seat[kind]->inset);
        number("contact", a.seat[kind]->contact_diameter, b.seat[kind]->contact_diameter);
        number("stem_height", a.seat[kind]->stem_height, b.seat[kind]->stem_height);
        ASSERT_EQ(a.seat[kind]->top.size(), b.seat[kind]->top.size());
        for (std::size_t i = 0; i < a.seat[kind]->top.size(); ++i) {
            number("top", a.seat[kind]->top[i].angle, b.seat[kind]->top[i].angle);
            number("top", a.seat[kind]->top[i].width, b.seat[kind]->top[i].width);
        }
        ASSERT_EQ(a.guide[kind].has_value(), b.guide[kind].has_value());
        if (a.guide[kind]) number("mouth", a.guide[kind]->mouth, b.guide[kind]->mouth);
    }
    void list(const std::string& what, const std::vector<double>& a, const std::vector<double>& b) const {
        ASSERT_EQ(a.size(), b.size()) << what;
        for (std::size_t i = 0; i < a.size(); ++i) number(what, a[i], b[i]);
    }

    double tolerance_;
};

}  // namespace seatwright::job::test
