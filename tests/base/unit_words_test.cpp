// Figures from NIST SP 811, appendix B: 1 lbf = 4.448222 N, 1 psi = 6.894757 kPa, 1 lbf·ft = 1.355818 N·m,
// 1 ft = 0.3048 m, 1 hp (550 ft·lbf/s) = 745.6999 W.
#include "seatwright/base/unit_words.hpp"

#include <gtest/gtest.h>

namespace seatwright {
namespace {

TEST(UnitWords, CustomaryBesideInchesMetricBesideMillimetres) {
    const auto inch = LengthUnit::inch, mm = LengthUnit::mm;
    EXPECT_NEAR(surface_speed_in_unit(30.48, inch).value, 100, 1e-9);
    EXPECT_NEAR(torque_in_unit(1355.818, inch).value, 1, 1e-6);
    EXPECT_NEAR(force_in_unit(4.448222, inch).value, 1, 1e-6);
    EXPECT_NEAR(pressure_in_unit(6.894757, inch).value, 1000, 1e-3);
    EXPECT_NEAR(power_in_unit(745.6999, inch).value, 1, 1e-6);
    EXPECT_EQ(words_of(surface_speed_in_unit(30, mm), 0), "30 m/min");
    EXPECT_EQ(words_of(surface_speed_in_unit(30, inch), 0), "98 ft/min");
    EXPECT_EQ(words_of(torque_in_unit(40'000, mm), 1), "40.0 N·m");
    EXPECT_EQ(words_of(torque_in_unit(40'000, inch), 1), "29.5 lbf·ft");
    EXPECT_EQ(words_of(pressure_in_unit(2.0, inch), 0), "290 psi");
}

}  // namespace
}  // namespace seatwright
