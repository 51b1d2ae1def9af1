// What find promises in the long run, on simulated heads with known truth (the full numbers:
// bench/find_bench).
#include <gtest/gtest.h>

#include <cmath>

#include "share.hpp"
#include "simulation.hpp"

namespace seatwright {
namespace {

// Thousands of honest heads a kind, over all kinds together at the design rate of 1e-3.
TEST(Rates, FalseAlarmsAreAtTheDesignRate) {
    std::size_t alarms = 0, heads = 0;
    for (const auto& kind : simulation::kinds()) {
        if (kind.touched.size() < 6) continue;
        const std::size_t n = kind.touched.size() > 10 ? 4000 : 10000;
        alarms += simulation::false_alarms(kind, n, 1);
        heads += n;
    }
    EXPECT_GT(heads, 20000U);
    expect_share(alarms, heads, find::false_alarm_rate, find::false_alarm_rate, "false alarms");
}

TEST(Rates, GrossErrorsAreHardlyEverMissed) {
    std::size_t missed = 0, heads = 0;
    for (const auto& kind : simulation::kinds()) {
        if (kind.touched.size() < 6) continue;
        missed += simulation::missed_errors(kind, 2000, 1, 8, 2).missed;
        heads += 2000;
    }
    EXPECT_LE(missed, 6U) << "of " << heads << ": 0.1 % would be 6";
}

TEST(Rates, MaskedPairsAreFound) {
    std::size_t missed = 0, lost = 0, heads = 0;
    for (const auto& kind : simulation::kinds()) {
        if (kind.touched.size() < 6) continue;
        const auto result = simulation::missed_errors(kind, 1000, 2, 10, 3);
        missed += result.missed;
        lost += result.good_lost;
        heads += 1000;
    }
    EXPECT_LE(static_cast<double>(missed), 0.01 * static_cast<double>(heads));
    EXPECT_LE(static_cast<double>(lost), 0.02 * static_cast<double>(heads));
}

TEST(Rates, EllipsesAndProbabilitiesAreCalibrated) {
    std::array<simulation::Calibration::Bin, 10> bins{};
    for (const auto& kind : simulation::kinds()) {
        const auto result = simulation::calibrate(kind, 4000, 4);
        expect_share(result.covered, result.guides, 0.95, 0.95, kind.name);
        for (std::size_t b = 0; b < bins.size(); ++b) {
            bins[b].n += result.bins[b].n;
            bins[b].entered += result.bins[b].entered;
            bins[b].predicted += result.bins[b].predicted;
            bins[b].variance += result.bins[b].variance;
        }
    }
    for (std::size_t b = 0; b < bins.size(); ++b) {
        EXPECT_GT(bins[b].n, 200U) << "bin " << b;
        EXPECT_NEAR(static_cast<double>(bins[b].entered), bins[b].predicted,
                    3.5 * std::sqrt(bins[b].variance))
            << "bin " << b << " of " << bins[b].n;
    }
}

}  // namespace
}  // namespace seatwright
