// Forces, speeds, dwell, bending and moves against tables and closed forms.
#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "seatwright/cut/bending.hpp"
#include "seatwright/cut/conditions.hpp"
#include "seatwright/cut/dwell.hpp"
#include "seatwright/cut/force.hpp"
#include "seatwright/cut/moves.hpp"
#include "shaped.hpp"
#include "spoken.hpp"

namespace seatwright::cut {
namespace {

// Of a deflection, after that many turns: the share `ratio` of it is left by each.
double left_after(const Deflection& deflection, double turns) {
    return deflection.start * std::pow(deflection.ratio, turns);
}

// Kienzle in turning: h = f·sin κ, b = a_p/sin κ. Inputs kc11, mc from VDI 3323 group tables and from memory;
// answers computed from the published formula (O. Kienzle, VDI-Z 94 (1952)), not printed anywhere we know of.
struct Turning {
    double kc11, mc, feed, depth, kappa_deg, speed, kc, force, power_kw;
};

TEST(Force, KienzlesLawInTurningTerms) {
    const Turning rows[] = {{1160, 0.26, 0.2, 2, 90, 120, 1762.747837, 705.099135, 1.410198269},
                            {1160, 0.26, 0.3, 3, 45, 100, 1735.962592, 1562.366333, 2.603943888},
                            {2220, 0.14, 0.2, 2, 90, 150, 2781.049859, 1112.419944, 2.781049859},
                            {2500, 0.26, 0.25, 3, 75, 140, 3617.347441, 2713.010581, 6.330358022},
                            {1150, 0.20, 0.1, 1, 90, 100, 1822.627171, 182.262717, 0.303771195}};
    for (const Turning& row : rows) {
        const double kappa = rad(row.kappa_deg), chip = row.feed * std::sin(kappa),
                     width = row.depth / std::sin(kappa);
        const CuttingData data{row.kc11, row.mc, 0};
        EXPECT_NEAR(specific_pressure(data, chip), row.kc, 1e-6 * row.kc);
        // The same chip as an axial feed f' on a facet at angle α with f'·cos α = h.
        CutForm form;
        form.facets = {{rad(30), width, 25}};
        form.face_angle = rad(30);
        const Load load = load_of(form, data, chip / std::cos(rad(30)), 1);
        EXPECT_NEAR(load.cutting, row.force, 1e-6 * row.force);
        EXPECT_NEAR(load.torque, row.force * 25, 1e-6 * row.force * 25);
        // P = F_c·v_c/60000 kW with v_c in m/min at the radius of 25 mm.
        EXPECT_NEAR(power_of(load.torque, rpm_of(row.speed, 50)) / 1000, row.power_kw, 1e-6 * row.power_kw);
    }
}

TEST(Force, SpeedOfASurfaceSpeed) {
    // N = 1000·v/(π·D), computed; and the trade's rule 3.82·sfm/D (common practice).
    EXPECT_NEAR(rpm_of(100, 40), 795.774715, 1e-6);
    EXPECT_NEAR(rpm_of(30, 45), 212.206591, 1e-6);
    EXPECT_NEAR(rpm_of(200, 25), 2546.479089, 1e-6);
    EXPECT_NEAR(rpm_of(0.3048 * 300, 25.4 * 1.625), 705.178825, 1e-6);
    EXPECT_NEAR(surface_speed_of(rpm_of(33, 41), 41), 33, 1e-12);
    // A shop's table in whole rpm, D by v (derived from the same rule, rounded).
    const double diameters[] = {25, 30, 35, 40, 45, 50, 55};
    const int at_30[] = {382, 318, 273, 239, 212, 191, 174};
    for (int i = 0; i < 7; ++i) EXPECT_EQ(std::lround(rpm_of(30, diameters[i])), at_30[i]);
}

TEST(Force, LoadsScaleAsTheFormulasSay) {
    CutForm form;
    form.facets = {{rad(60), 1.2, 18}, {rad(45), 1.5, 18.8}, {rad(30), 1.0, 19.8}};
    form.face_angle = rad(45);
    const CuttingData data{1350, 0.28, 0.5};
    const Load one = load_of(form, data, 0.04, 1), two = load_of(form, data, 0.08, 2);
    // Twice the feed on twice the blades is the same chip: twice the torque and thrust.
    EXPECT_NEAR(two.chip, one.chip, 1e-15);
    EXPECT_NEAR(two.torque, 2 * one.torque, 1e-9);
    EXPECT_NEAR(two.thrust, 2 * one.thrust, 1e-9);
    EXPECT_NEAR(two.cutting, one.cutting, 1e-9);
    const Load fine = load_of(form, data, 0.02, 1);
    EXPECT_NEAR(one.torque / fine.torque, std::pow(2, 1 - 0.28), 1e-12);
    // A bore wall takes no chip from an axial feed.
    form.facets.push_back({rad(90), 5, 18});
    EXPECT_NEAR(load_of(form, data, 0.04, 1).torque, one.torque, 1e-6);
}

TEST(Form, FacetsOfTheSectionAreThoseDrawn) {
    const auto job = fixtures::wedge_job();
    const auto section = fixtures::section_of(*job.valve.intake, *job.seat.intake);
    const CutForm form = engaged_form(section, rad(45));
    ASSERT_EQ(form.facets.size(), 3u);
    const double angles[] = {60, 45, 30}, widths[] = {1.2, 1.5, 1.0};
    for (std::size_t i = 0; i < 3; ++i) {
        EXPECT_NEAR(deg(form.facets[i].angle), angles[i], 1e-9);
        EXPECT_NEAR(form.facets[i].width, widths[i], 1e-12);
    }
    EXPECT_NEAR(form.total_width, 3.7, 1e-12);
    EXPECT_NEAR(form.largest_diameter, 43.5 + 2 * std::cos(rad(30)), 1e-12);
}

TEST(Dwell, EachTurnLeavesTheShareTheModelSays) {
    // Turn by turn: the blade cuts what the spring still presses: chip h gives K·h = k·x, x drops by h.
    std::mt19937 random(5);
    std::uniform_real_distribution<double> unit(0.1, 1);
    for (int i = 0; i < 200; ++i) {
        const double thrust = 400 * unit(random), feed = 0.05 * unit(random), k = 30'000 * unit(random);
        const Deflection d = deflection_of(thrust, feed, k);
        double x = thrust / k;
        const double K = thrust / feed;
        for (int turn = 1; turn <= 5; ++turn) {
            // Force balance after the turn: k·x' = K·(x − x').
            x = K * x / (K + k);
            EXPECT_NEAR(left_after(d, turn), x, 1e-12);
        }
        const double turns = dwell_turns_for(d, dwell_residue);
        EXPECT_LE(left_after(d, turns), dwell_residue * (1 + 1e-5));
        if (turns > 1) {
            EXPECT_GT(left_after(d, turns - 1), dwell_residue * (1 - 1e-5));
        }
    }
}

TEST(Bending, CantileverAgainstBookAndClosedForm) {
    // Published worked example (FOSSEE Scilab-TBC-Uploads 3863/CH13/EX13.1): L 3000, F 25 000, I 1e8,
    // E 2.1e5: 0.005 rad, 10.714 mm. The rod's diameter that has I = 1e8 mm4:
    const double d = std::pow(1e8 * 64 / pi, 0.25);
    const Bending book = bend(d, 3000, 25'000, 2.1e5);
    EXPECT_NEAR(book.deflection, 10.714, 5e-4);
    EXPECT_NEAR(book.slope, 0.005357143, 1e-9);
    // Pilot Ø9.5, L 80, F 500, E 207e3: computed from the closed forms.
    const Bending pilot = bend(9.5, 80, 500);
    EXPECT_NEAR(pilot.deflection, 1.031060253, 1e-8);
    EXPECT_NEAR(pilot.slope, 0.019332380, 1e-9);
    EXPECT_NEAR(pilot.stiffness, 484.937712, 1e-6);
}

TEST(Moves, TrapezoidAgainstStepByStepIntegration) {
    for (const double distance : {0.0, 0.3, 5.0, 20.0, 112.0, 700.0}) {
        const Drive drive{100, 500};
        // Integrated: speed up until the way left is what braking takes.
        double t = 0, x = 0, v = 0;
        const double dt = 1e-5;
        while (x < distance - 1e-7 && t < 20) {
            const double left = distance - x;
            v = std::min({v + drive.accel * dt, drive.speed, std::sqrt(2 * drive.accel * left)});
            x += v * dt;
            t += dt;
        }
        EXPECT_NEAR(move_seconds(distance, drive), t, 3e-3 + 2e-3 * t) << distance;
    }
    EXPECT_NEAR(move_seconds(100, {100, 500}), 1.2, 1e-12);
}

struct Asked {
    ConditionsAsked asked;
    job::Machine machine;
};
Asked usual() {
    const auto job = fixtures::wedge_job();
    Asked a;
    a.asked.form = engaged_form(fixtures::section_of(*job.valve.intake, *job.seat.intake), rad(45));
    a.asked.material = job.materials[0];
    a.asked.pilot = job.pilots[0];
    a.asked.what = saying("intake seats");
    a.machine = job.machine;
    return a;
}
bool said(const Conditions& c, const char* code) {
    return std::any_of(c.warnings.begin(), c.warnings.end(),
                       [&](const Warning& w) { return w.code == code; });
}

TEST(Conditions, WithoutChatterTheTopOfTheRangeRoundedDown) {
    auto a = usual();
    a.machine.mode.reset();
    const Conditions c = choose_conditions(a.asked, a.machine);
    const double limit = rpm_of(40, a.asked.form.largest_diameter);
    EXPECT_LE(c.rpm, limit);
    EXPECT_GT(c.rpm, limit - a.machine.rpm_step);
    EXPECT_EQ(c.feed, 0.05);
    EXPECT_FALSE(c.stable_width);
    EXPECT_TRUE(c.warnings.empty());
}

TEST(Conditions, ASmallMachineIsFedMoreFinelyThenTurnedMoreSlowly) {
    auto a = usual();
    a.machine.mode.reset();
    a.machine.torque = 0.7 * choose_conditions(a.asked, a.machine).load.torque;
    const Conditions fed = choose_conditions(a.asked, a.machine);
    EXPECT_LT(fed.feed, 0.05);
    EXPECT_GE(fed.feed, 0.02);
    EXPECT_LE(fed.load.torque, *a.machine.torque * (1 + 1e-9));
    EXPECT_TRUE(said(fed, "feed-lowered"));
    a.machine.power = 0.8 * fed.power;
    const Conditions slow = choose_conditions(a.asked, a.machine);
    EXPECT_LT(slow.rpm, fed.rpm);
    EXPECT_LE(slow.power, *a.machine.power * (1 + 1e-9));
    a.machine.power = 0.01 * fed.power;
    const Conditions weak = choose_conditions(a.asked, a.machine);
    EXPECT_TRUE(said(weak, "power"));
    EXPECT_LT(weak.rpm, slow.rpm);  // as slow as the material's range lets it be
    EXPECT_GE(weak.rpm, weak.slowest);
    a.machine.torque = 0.01 * *a.machine.torque;
    const Conditions none = choose_conditions(a.asked, a.machine);
    EXPECT_TRUE(said(none, "torque"));
    EXPECT_EQ(none.feed, 0.02);
}

TEST(Conditions, AMachineOutsideTheMaterialsRangeIsSaid) {
    auto a = usual();
    a.machine.rpm_min = 600;
    Conditions c = choose_conditions(a.asked, a.machine);
    EXPECT_EQ(c.rpm, 600);
    EXPECT_TRUE(said(c, "speed-range"));
    a.machine.rpm_min = 20;
    a.machine.rpm_max = 90;
    c = choose_conditions(a.asked, a.machine);
    EXPECT_EQ(c.rpm, 90);
    EXPECT_TRUE(said(c, "speed-range"));
}

TEST(Conditions, ASlenderPilotIsSparedByFeedAndSaid) {
    auto a = usual();
    a.asked.pilot->diameter = 5.5;
    const Conditions c = choose_conditions(a.asked, a.machine);
    ASSERT_TRUE(c.pilot_bending);
    EXPECT_GT(c.pilot_bending->slenderness, pilot_slenderness_limit);
    EXPECT_TRUE(said(c, "pilot-slender"));
    EXPECT_TRUE(said(c, "pilot-bending") || c.pilot_bending->stress <= pilot_stress_limit);
    // Several blades hold each other.
    a.asked.blades = 3;
    EXPECT_EQ(choose_conditions(a.asked, a.machine).pilot_bending->stress, 0);
}

TEST(Conditions, SentencesNameLengthsInTheUnitAskedFor) {
    auto a = usual();
    a.machine.mode.reset();
    a.machine.axial_stiffness = 100;
    a.machine.torque = 0.7 * choose_conditions(a.asked, a.machine).load.torque;
    const Conditions c = choose_conditions(a.asked, a.machine);
    EXPECT_TRUE(said(c, "feed-lowered") && said(c, "dwell"));
    for (const auto& warning : c.warnings) {
        EXPECT_EQ(spoken(warning.text, LengthUnit::inch).find(" mm"), std::string::npos)
            << spoken(warning.text, LengthUnit::inch);
    }
}

TEST(Conditions, ASoftSpindleDwellsLongerUpToTheCap) {
    auto a = usual();
    a.machine.axial_stiffness = 4'000;
    const Conditions soft = choose_conditions(a.asked, a.machine);
    EXPECT_GT(soft.dwell_turns, least_dwell_turns);
    a.machine.axial_stiffness = 100;
    const Conditions rubber = choose_conditions(a.asked, a.machine);
    EXPECT_EQ(rubber.dwell_turns, most_dwell_turns);
    EXPECT_TRUE(said(rubber, "dwell"));
    a.machine.axial_stiffness.reset();
    EXPECT_EQ(choose_conditions(a.asked, a.machine).dwell_turns, usual_dwell_turns);
}

}  // namespace
}  // namespace seatwright::cut
