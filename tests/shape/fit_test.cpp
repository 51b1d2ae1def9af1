// Press fits against published worked examples, and their closed-form limits.
#include "seatwright/shape/fit.hpp"

#include <gtest/gtest.h>

#include "job_fixtures.hpp"

namespace seatwright::shape {
namespace {

constexpr Elastic steel{207'000, 0.29, 11.7e-6};
constexpr Elastic iron{110'000, 0.26, 11.4e-6};
constexpr Elastic aluminium{72'400, 0.33, 21.5e-6};

// Bhandari, Design of Machine Elements, example 22.6: tube 20/40 mm, jacket 40/60 mm, steel E 207 000 MPa,
// greatest stress 100 MPa: the jacket is bored to 39.968289 mm.
TEST(PressFit, PublishedTubeAndJacket) {
    const Elastic e{207'000, 0.3, 0};
    const PressFit fit{20, 40, 60, 1, 0, e, e};
    const double p = 38.461538461538;  // 100 / ((60² + 40²)/(60² − 40²))
    EXPECT_NEAR(hoop_around(fit, p), 100, 1e-9);
    const double interference = p / press_pressure(fit, 1);  // the pressure is linear in the interference
    EXPECT_NEAR(interference, 0.0317106404, 5e-11);
    EXPECT_NEAR(40 - interference, 39.968289, 5e-7);
    EXPECT_NEAR(press_pressure(fit, 0.0317106404), p, 1e-6);
}

// Shigley 9e eqs 7-39, 7-44, 7-45, worked by hand: solid shaft 50 in a ring of 100, E 200 GPa, ν 0.3, δ 0.05.
TEST(PressFit, SolidShaftInARing) {
    const Elastic e{200'000, 0.3, 0};
    const PressFit fit{0, 50, 100, 1, 0.05, e, e};
    EXPECT_NEAR(press_pressure(fit, 0.05), 75, 1e-9);
    EXPECT_NEAR(hoop_around(fit, 75), 125, 1e-9);
}

// The same equations for a steel ring 40/32 in iron and in aluminium of outside 80 (computed independently).
TEST(PressFit, SteelRingInIronAndAluminium) {
    const PressFit in_iron{32, 40, 80, 8, 0.06, steel, iron};
    const double p = press_pressure(in_iron, 0.06);
    EXPECT_NEAR(p, 39.347668, 1e-6);
    EXPECT_NEAR(hoop_around(in_iron, p), 65.579447, 1e-6);
    EXPECT_NEAR(hoop_at_ring_bore(in_iron, p), -218.598156, 1e-5);
    EXPECT_NEAR(hold_force(in_iron, p, 0.12), 4746.790841, 1e-4);
    const PressFit in_aluminium{32, 40, 80, 8, 0.10, steel, aluminium};
    const double q = press_pressure(in_aluminium, 0.10);
    EXPECT_NEAR(q, 51.883563, 1e-6);
    EXPECT_NEAR(hoop_at_ring_bore(in_aluminium, q), -288.242015, 1e-5);
    EXPECT_NEAR(hold_force(in_aluminium, q, 0.12), 6259.085552, 1e-4);
}

// Ø40, coefficients of Callister's appendix B: +150 K takes 0.0588 mm from a steel ring in aluminium; the
// head heated by 100 K opens 0.0860 mm; the ring cooled by 216 K shrinks 0.101088 mm.
TEST(PressFit, InterferenceFollowsTheTemperatures) {
    const PressFit fit{32, 40, 80, 8, 0.10, steel, aluminium};
    EXPECT_NEAR(interference_at(fit, 170, 170) - 0.10, -0.0588, 1e-12);
    EXPECT_NEAR(interference_at(fit, 20, 120) - 0.10, -0.0860, 1e-12);
    EXPECT_NEAR(interference_at(fit, 20 - 216, 20) - 0.10, -0.101088, 1e-12);
    EXPECT_NEAR(interference_at(fit, ring_temperature_to_enter(fit), 20), 0, 1e-15);
    EXPECT_NEAR(interference_at(fit, 20, around_temperature_to_enter(fit)), 0, 1e-15);
    EXPECT_EQ(press_pressure(fit, -0.01), 0);
}

// ISO 286 valve-seat ring Ø20 H7/s6 (20.021/20.000 and 20.048/20.035): interference 0.014 to 0.048 mm. The
// usual interference of a ring that size in iron lies inside.
TEST(PressFit, UsualInterferenceLiesInThePublishedFit) {
    EXPECT_GT(usual_insert_interference(20, "grey iron"), 0.014);
    EXPECT_LT(usual_insert_interference(20, "grey iron"), 0.048);
    // Common practice, repair fits: aluminium heads of 33 to 37 mm rings 0.064 to 0.127 mm.
    EXPECT_GT(usual_insert_interference(35, "aluminium"), 0.064);
    EXPECT_LT(usual_insert_interference(35, "aluminium"), 0.127);
}

TEST(Fits, ListEveryValveWithAnInsertAndCaution) {
    auto job = fixtures::wedge_job();
    job::Insert insert;
    insert.outside = 40;
    insert.inside = 32;
    insert.depth = 8;
    insert.interference = 0.06;
    insert.material = "steel";
    job.seat.exhaust->insert = insert;
    job::Material ring;
    ring.name = "steel";
    ring.modulus = steel.modulus;
    ring.poisson = steel.poisson;
    ring.expansion = steel.expansion;
    job.materials.push_back(ring);
    const Fits fits = fits_of(job);
    ASSERT_EQ(fits.inserts.size(), 4u);
    for (const auto& f : fits.inserts) {
        EXPECT_EQ(job.head.valves[f.valve].kind, job::Kind::exhaust);
        EXPECT_NEAR(f.pressure, 39.347668, 1e-6);
        EXPECT_NEAR(f.hold_force, 4746.790841, 1e-4);
        EXPECT_NEAR(f.counterbore, 39.94, 1e-12);
    }
    bool cautioned = false;
    for (const auto& w : fits.notices.warnings) cautioned |= w.code == "cold-and-hot-parts";
    EXPECT_TRUE(cautioned);
    job.materials.pop_back();
    EXPECT_TRUE(fits_of(job).inserts.empty());
    // A ring and a seat without a material of their own are taken to be of the head's (job-file-reference).
    job.seat.exhaust->insert->material.clear();
    job.seat.exhaust->material.clear();
    EXPECT_EQ(fits_of(job).inserts.size(), 4u);
}

}  // namespace
}  // namespace seatwright::shape
