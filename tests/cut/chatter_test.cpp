// Chatter against published inputs, the closed-form minimum, and a simulation in time of the delay equation
// that knows nothing of lobes.
#include <gtest/gtest.h>

#include <cmath>
#include <iostream>
#include <random>
#include <vector>

#include "seatwright/base/units.hpp"
#include "seatwright/cut/chatter.hpp"

namespace seatwright::cut {
namespace {

// Inputs of a published example (leekunhwee/Dynamics, TimeDomain/SemiDis/Turning/OneDOFTurning.m): k 2.26e8
// N/m, ζ 0.012, f 250 Hz, K_f 1e9 N/m2. Answers computed here from its README's formulas in Python, 10
// digits.
Lobes published() {
    return {{250, 2.26e5, 0.012}, 1000, 1};  // N/mm, N/mm2
}

TEST(Chatter, PublishedSingleModeExample) {
    const Lobes lobes = published();
    EXPECT_NEAR(least_width(lobes), 5.489088, 1e-6);
    struct Row {
        double ratio, width, phase, rpm[3];
    };
    const Row rows[] = {{1.011928851, 5.489088, 4.724246966, {20187.777659, 8664.331970, 5515.826541}},
                        {1.005, 7.690482, 5.495370034, {17236.149326, 8041.649911, 5244.179969}},
                        {1.05, 12.282593, 3.623737520, {27308.867724, 9988.991569, 6112.384659}},
                        {1.20, 49.933015, 3.272315272, {34561.870148, 11835.835767, 7140.575698}}};
    for (const Row& row : rows) {
        EXPECT_NEAR(border_width(lobes, row.ratio), row.width, 1e-6);
        EXPECT_NEAR(wave_phase(lobes, row.ratio), row.phase, 2e-7);
        for (int j = 0; j < 3; ++j) EXPECT_NEAR(lobe_rpm(lobes, row.ratio, j), row.rpm[j], 2e-3);
    }
    // "from memory": k 2e7 N/m, ζ 0.03, K_f 1.5e9 N/m2 → 0.824 mm.
    EXPECT_NEAR(least_width({{100, 2e4, 0.03}, 1500, 1}), 0.824, 1e-9);
}

TEST(Chatter, TheLeastBorderIsTheClosedForm) {
    std::mt19937 random(7);
    std::uniform_real_distribution<double> unit(0, 1);
    for (int i = 0; i < 200; ++i) {
        const Lobes lobes{{20 + 400 * unit(random), 2e3 + 5e4 * unit(random), 0.005 + 0.1 * unit(random)},
                          500 + 3000 * unit(random),
                          1 + i % 4};
        const double r = std::sqrt(1 + 2 * lobes.mode.damping);
        EXPECT_NEAR(border_width(lobes, r), least_width(lobes), 1e-12 * least_width(lobes));
        EXPECT_GT(border_width(lobes, r * 1.01), least_width(lobes));
        EXPECT_GT(border_width(lobes, 1 + (r - 1) * 0.9), least_width(lobes));
        // At the bottom of lobe j the diagram shows exactly that.
        const double rpm = lobe_rpm(lobes, r, i % 7);
        EXPECT_NEAR(stable_width(lobes, rpm), least_width(lobes), 1e-6 * least_width(lobes));
    }
}

// The lowest of a thousand lobes, each by its own plain bisection: slow and without any choice of lobe.
double stable_by_brute_force(const Lobes& lobes, double rpm) {
    double best = 1e300;
    for (int j = 0; j < 1000; ++j) {
        double low = 1 + 1e-12, high = 1e4;
        if (lobe_rpm(lobes, low, j) > rpm || lobe_rpm(lobes, high, j) < rpm) continue;
        for (int i = 0; i < 200; ++i) {
            const double middle = 0.5 * (low + high);
            (lobe_rpm(lobes, middle, j) < rpm ? low : high) = middle;
        }
        best = std::min(best, border_width(lobes, low));
    }
    return best;
}

TEST(Chatter, StableWidthIsTheLowestOfAllLobes) {
    std::mt19937 random(11);
    std::uniform_real_distribution<double> unit(0, 1);
    for (int i = 0; i < 60; ++i) {
        const Lobes lobes{{30 + 200 * unit(random), 1e4, 0.01 + 0.06 * unit(random)}, 2000, 1 + i % 3};
        const double rpm = 60 + 3000 * unit(random) * unit(random);
        const double expected = stable_by_brute_force(lobes, rpm);
        EXPECT_NEAR(stable_width(lobes, rpm), expected, 1e-6 * expected) << rpm;
    }
}

TEST(Chatter, FastestStableAgreesWithTryingEverySpeed) {
    std::mt19937 random(13);
    std::uniform_real_distribution<double> unit(0, 1);
    int found = 0, none = 0;
    for (int i = 0; i < 150; ++i) {
        const Lobes lobes{{20 + 200 * unit(random), 1e4, 0.01 + 0.05 * unit(random)}, 2000, 1 + i % 3};
        const double width = least_width(lobes) * (0.8 + 2.5 * unit(random));
        const double low = 50 + 200 * unit(random), high = low + 50 + 900 * unit(random), step = 5;
        std::optional<double> expected;
        for (double rpm = std::floor(high / step) * step; rpm >= low && !expected; rpm -= step)
            if (stable_width(lobes, rpm) >= width) expected = rpm;
        const auto got = fastest_stable(lobes, width, low, high, step);
        ASSERT_EQ(got.has_value(), expected.has_value()) << i;
        if (got) {
            EXPECT_NEAR(*got, *expected, 1e-9) << i;
        }
        (got ? found : none)++;
        const WidestStable widest = widest_stable(lobes, low, high, step);
        EXPECT_GE(widest.rpm, low);
        EXPECT_LE(widest.rpm, high);
        EXPECT_NEAR(widest.width, stable_width(lobes, widest.rpm), 1e-12);
        if (!got) {
            EXPECT_LT(widest.width, width);
        }
    }
    EXPECT_GT(found, 20);
    EXPECT_GT(none, 20);
}

// x'' + 2ζω₀x' + ω₀²x = −(ω₀²/k)·K_f·b·(x(t) − x(t − T)) stepped by the fourth-order rule with the delayed
// term interpolated halfway; growth is the later swing over the earlier one.
bool grows(const Lobes& lobes, double width, double rpm) {
    const double w0 = 2 * pi * lobes.mode.frequency, zeta = lobes.mode.damping;
    const double feedback = w0 * w0 / lobes.mode.stiffness * lobes.cutting_stiffness * width;
    const double pass = 60 / (rpm * lobes.blades);
    const int per_pass = std::max(100, static_cast<int>(std::ceil(pass * lobes.mode.frequency * 60)));
    const double dt = pass / per_pass;
    const int passes = static_cast<int>(std::ceil(400 / (pass * lobes.mode.frequency))) + 40;
    double x = 1, v = 0, early = 0, late = 0;
    const int total = passes * per_pass;
    std::vector<double> history(static_cast<std::size_t>(total) + 1, 0.0);
    history[0] = x;
    const auto delayed = [&](int step, double part) {
        const int at = step - per_pass;
        const double a = at >= 0 ? history[static_cast<std::size_t>(at)] : 0;
        const double b = at + 1 >= 0 ? history[static_cast<std::size_t>(at + 1)] : 0;
        return a + part * (b - a);
    };
    for (int step = 0; step < total; ++step) {
        const auto accel = [&](double px, double pv, double old) {
            return -2 * zeta * w0 * pv - w0 * w0 * px - feedback * (px - old);
        };
        const double d0 = delayed(step, 0), dh = delayed(step, 0.5), d1 = delayed(step, 1);
        const double k1x = v, k1v = accel(x, v, d0);
        const double k2x = v + 0.5 * dt * k1v, k2v = accel(x + 0.5 * dt * k1x, k2x, dh);
        const double k3x = v + 0.5 * dt * k2v, k3v = accel(x + 0.5 * dt * k2x, k3x, dh);
        const double k4x = v + dt * k3v, k4v = accel(x + dt * k3x, k4x, d1);
        x += dt / 6 * (k1x + 2 * k2x + 2 * k3x + k4x);
        v += dt / 6 * (k1v + 2 * k2v + 2 * k3v + k4v);
        history[static_cast<std::size_t>(step) + 1] = x;
        if (step > total / 2 && step <= 3 * total / 4) early = std::max(early, std::abs(x));
        if (step > 3 * total / 4) late = std::max(late, std::abs(x));
        if (std::abs(x) > 1e9) return true;
    }
    return late > early;
}

TEST(Chatter, BorderOfTheDelayEquationInTimeAgreesWithinThreePercent) {
    struct Case {
        Lobes lobes;
        double rpm;
    };
    const Case cases[] = {{{{180, 12'000, 0.04}, 2000, 1}, 1500},  {{{180, 12'000, 0.04}, 2000, 1}, 2900},
                          {{{180, 12'000, 0.04}, 2000, 2}, 1234},  {{{90, 8'000, 0.03}, 1600, 1}, 1200},
                          {{{60, 20'000, 0.06}, 2400, 3}, 410},    {{{250, 2.26e5, 0.012}, 1000, 1}, 9300},
                          {{{250, 2.26e5, 0.012}, 1000, 1}, 16000}};
    double worst = 0;
    for (const Case& c : cases) {
        const double predicted = stable_width(c.lobes, c.rpm);
        double low = 0.5 * predicted, high = 2 * predicted;
        ASSERT_FALSE(grows(c.lobes, low, c.rpm));
        ASSERT_TRUE(grows(c.lobes, high, c.rpm));
        for (int i = 0; i < 9; ++i) {
            const double middle = std::sqrt(low * high);
            (grows(c.lobes, middle, c.rpm) ? high : low) = middle;
        }
        EXPECT_NEAR(std::sqrt(low * high), predicted, 0.03 * predicted) << c.rpm << " rpm";
        worst = std::max(worst, std::abs(std::sqrt(low * high) / predicted - 1));
    }
    std::cout << "largest deviation of the border " << 100 * worst << " %\n";
}

TEST(Chatter, MarksGiveTheFrequencyAndCalmSpeedsPutTheBladeInStep) {
    // 36 marks at 300 rpm: 180 Hz; calm with one blade at 10800, 5400, 3600, … rpm.
    EXPECT_NEAR(frequency_of_marks(36, 300), 180, 1e-12);
    const auto calm = calm_speeds(180, 1, 1000, 4000);
    ASSERT_EQ(calm.size(), 8u);
    EXPECT_NEAR(calm.front(), 3600, 1e-9);
    EXPECT_NEAR(calm.back(), 1080, 1e-9);
    const auto two = calm_speeds(180, 2, 1000, 4000);
    EXPECT_NEAR(two.front(), 2700, 1e-9);
    EXPECT_TRUE(calm_speeds(0, 1, 10, 20).empty());
    EXPECT_LE(calm_speeds(1e6, 1, 1, 1e5).size(), 500u);
}

}  // namespace
}  // namespace seatwright::cut
