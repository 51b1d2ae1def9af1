// Decision rule of ISO 14253-1 and the uncertainty behind it: worked examples of the GUM's annex H.
#include "seatwright/prove/verdict.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "seatwright/base/numerics/moments.hpp"
#include "shared_data.hpp"
#include "spoken.hpp"

namespace seatwright::prove {
namespace {

// 45.000 ± 0.025 with U 0.010: accept 44.985…45.015, reject at 44.965 and 45.035 (computed from the rule).
TEST(Decision, GuardBand) {
    const auto verdict = [](double y) { return decide(y, 44.975, 45.025, 0.010); };
    EXPECT_EQ(verdict(45.000), Verdict::pass);
    EXPECT_EQ(verdict(44.985), Verdict::pass);
    EXPECT_EQ(verdict(45.015), Verdict::pass);
    EXPECT_EQ(verdict(45.0151), Verdict::undecided);
    EXPECT_EQ(verdict(44.9849), Verdict::undecided);
    EXPECT_EQ(verdict(45.0349), Verdict::undecided);
    EXPECT_EQ(verdict(45.035), Verdict::fail);
    EXPECT_EQ(verdict(44.965), Verdict::fail);
}

TEST(Decision, OneLimitAndNoUncertainty) {
    EXPECT_EQ(decide(0.04, std::nullopt, 0.05, 0.01), Verdict::pass);
    EXPECT_EQ(decide(0.0405, std::nullopt, 0.05, 0.01), Verdict::undecided);
    EXPECT_EQ(decide(0.06, std::nullopt, 0.05, 0.01), Verdict::fail);
    EXPECT_EQ(decide(0.05, std::nullopt, 0.05, 0), Verdict::pass);
    EXPECT_EQ(decide(0.0501, std::nullopt, 0.05, 0), Verdict::fail);
    EXPECT_EQ(decide(0.0501, std::nullopt, std::nullopt, 0), Verdict::pass);
}

TEST(Decision, WorstOfSeveral) {
    EXPECT_EQ(worse(Verdict::pass, Verdict::not_measured), Verdict::not_measured);
    EXPECT_EQ(worse(Verdict::undecided, Verdict::not_measured), Verdict::undecided);
    EXPECT_EQ(worse(Verdict::fail, Verdict::undecided), Verdict::fail);
    EXPECT_EQ(worse(Verdict::pass, Verdict::pass), Verdict::pass);
}

TEST(Decision, SaysWhatWouldDecide) {
    Judgement j;
    j.value = 0.045;
    j.limit_high = 0.05;
    j.budget = {{"gauge", 0.003, std::nullopt}};
    EXPECT_EQ(spoken(what_would_decide(j), LengthUnit::mm),
              "a gauge with a standard uncertainty of at most 0.0025 mm");
    // Three readings of s = 0.0015·√3 = 0.0026 cannot do it with any gauge: 4.53·0.0015 > 0.005. With n
    // readings U² = k²·(0.001² + 0.0026²/n): n = 4: ν = 7.10, k = 2.42, U = 0.0040.
    j.budget = {{"gauge", 0.001, std::nullopt}, {"repeat, 3 readings", 0.0015, 2.0}};
    EXPECT_EQ(spoken(what_would_decide(j), LengthUnit::mm), "1 more reading like these");
    // With a tiny scatter only the gauge stands in the way; the scatter leaves it a little less than 0.0025.
    j.budget = {{"gauge", 0.003, std::nullopt}, {"repeat, 3 readings", 1e-5, 2.0}};
    EXPECT_EQ(spoken(what_would_decide(j), LengthUnit::mm),
              "a gauge with a standard uncertainty of at most 0.0024 mm");
    j.budget = {{"gauge", 0.003, std::nullopt}, {"repeat, 2 readings", 0.002, 1.0}};
    EXPECT_EQ(spoken(what_would_decide(j), LengthUnit::mm), "a better gauge and more readings together");
    // A demand is rounded down, and never to nought: margin 2e-6 mm.
    j.value = 0.05 - 2e-6;
    j.budget = {{"gauge", 0.003, std::nullopt}};
    EXPECT_EQ(spoken(what_would_decide(j), LengthUnit::mm),
              "a gauge with a standard uncertainty of at most 0.0000010 mm");
    EXPECT_EQ(spoken(what_would_decide(j), LengthUnit::inch),
              "a gauge with a standard uncertainty of at most 0.000000039 in");
    j.value = 0.05 - 2 * 0.00379;
    j.budget = {{"gauge", 0.005, std::nullopt}};
    EXPECT_EQ(spoken(what_would_decide(j), LengthUnit::mm),
              "a gauge with a standard uncertainty of at most 0.0037 mm");
    // A pressure has no gauge_u: only its scatter can be mended.
    j.value = 0.045;
    j.budget = {{"repeat, 2 readings", 0.2, 1.0}};
    EXPECT_EQ(spoken(what_would_decide(j), LengthUnit::mm), "readings that scatter less");
    j.value = 0.05;
    EXPECT_NE(spoken(what_would_decide(j), LengthUnit::mm).find("on the limit"), std::string::npos);
}

TEST(Budget, PlainGaugeIsTwiceItsUncertainty) {
    const auto u = combine({{"gauge", 0.0015, std::nullopt}});
    EXPECT_EQ(u.expanded, 0.003);
    EXPECT_FALSE(u.dof.has_value());
}

// GUM H.1, end gauge: components 25 (18), 9.7 (25.6), 2.9 (50), 16.6 (2) nm give u 32, 16 degrees of freedom,
// and t99(16) = 2.92, U99 93 as printed; 31.66, 16.75, 92.5 unrounded.
TEST(Budget, EndGaugeOfTheGum) {
    const auto d = combine({{"random", 5.8, 24}, {"calibration, random", 3.9, 5}, {"systematic", 6.7, 8}});
    EXPECT_NEAR(d.u, 9.681942, 1e-6);
    EXPECT_NEAR(*d.dof, 25.447251, 1e-5);
    const double swing = 1e-6 / std::sqrt(3.0) * 0.1 * 50'000'623;
    const double temperature = 0.05 / std::sqrt(3.0) * 11.5e-6 * 50'000'623;
    EXPECT_NEAR(swing, 2.886787, 1e-6);
    EXPECT_NEAR(temperature, 16.599027, 1e-6);
    const auto all = combine({{"standard", 25, 18},
                              {"difference", d.u, *d.dof},
                              {"expansion difference", swing, 50},
                              {"temperature difference", temperature, 2}});
    EXPECT_NEAR(all.u, 31.663879, 1e-5);
    EXPECT_NEAR(*all.dof, 16.7519, 1e-3);
    EXPECT_NEAR(student_factor(0.99, 16), 2.920782, 1e-6);
    EXPECT_NEAR(student_factor(0.99, std::floor(*all.dof)) * all.u, 92.4833, 1e-3);
}

// GUM H.3, thermometer: −0.1712 at 20 °C, slope 0.00218(67), b(30 °C) −0.1494(41).
TEST(Budget, CalibrationLineOfTheGum) {
    const std::vector<double> t{21.521, 22.012, 22.512, 23.003, 23.507, 23.999,
                                24.513, 25.002, 25.503, 26.010, 26.511};
    const std::vector<double> b{-.171, -.169, -.166, -.159, -.164, -.165, -.156, -.157, -.159, -.161, -.160};
    numerics::PairMoments line;
    for (std::size_t i = 0; i < t.size(); ++i)
        line = line + numerics::PairMoments{.n = 1, .mean_x = t[i], .mean_y = b[i]};
    EXPECT_NEAR(line.at(20), -0.17120379013, 1e-11);
    EXPECT_NEAR(line.slope(), 0.00218269774, 1e-11);
    EXPECT_NEAR(line.slope_sd(), 0.00066794, 1e-8);
    const double residual = std::sqrt(0.000110096583109 / 9);
    EXPECT_NEAR(line.residual_sd(), residual, 1e-11);
    EXPECT_NEAR(line.at(30), -0.149376813, 1e-9);
    EXPECT_NEAR(line.sd_of_new_at(30), std::hypot(0.004138596, residual), 1e-9);
}

// 0.57 (9 degrees of freedom) with 0.25 (infinite): 12.8 effective degrees of freedom, a published worked
// value.
TEST(Budget, EffectiveDegreesOfFreedom) {
    EXPECT_NEAR(*combine({{"a", 0.57, 9}, {"b", 0.25, std::nullopt}}).dof, 12.795649, 1e-6);
}

}  // namespace
}  // namespace seatwright::prove
