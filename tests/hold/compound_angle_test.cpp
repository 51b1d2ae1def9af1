// Compound angles against Machinery's Handbook, 31st edition, pp. 121-122.
#include <gtest/gtest.h>

#include <cmath>

#include "seatwright/base/units.hpp"
#include "seatwright/base/vec.hpp"
#include "seatwright/hold/attitude.hpp"

namespace seatwright {
namespace {

double minutes(double degrees, double arc_minutes) {
    return rad(degrees + arc_minutes / 60);
}

// The handbook prints whole tenths of a minute of arc, and its last digit may be off by one.
const double printed = minutes(0, 0.15);

// Figure 1: tan C = tan A·cos B, the tilt left after the swing has taken the cant out. Values computed from
// the handbook's formula, nine decimals.
TEST(CompoundAngle, FigureOneIsTheTiltOfACantedGuide) {
    const double ok = rad(5e-10);
    const struct {
        double a, b, c;
    } rows[] = {{15, 30, 13.064313430}, {30, 45, 22.207654299}, {5, 7, 4.962917590}, {0.5, 1, 0.499923851}};
    for (const auto& row : rows) {
        const auto attitude = hold::attitude_for(guide_axis(rad(row.a), rad(row.b)));
        EXPECT_NEAR(attitude.tilt, rad(row.c), ok);
        EXPECT_NEAR(attitude.swing, -rad(row.b), 1e-15);
    }
}

// Figure 4: tan R = tan B/tan A, tan C = tan A/cos R: C is the whole angle of the guide to the deck normal, R
// the direction it leans to. Published example A 47°14′, B 38°10′: R 36°0.9′, C 53°12′.
TEST(CompoundAngle, FigureFourIsTheWholeLeanOfAGuide) {
    const Vec3 axis = guide_axis(minutes(47, 14), minutes(38, 10));
    EXPECT_NEAR(std::atan2(axis.x(), axis.y()), minutes(36, 0.9), printed);
    EXPECT_NEAR(angle_between(axis, Vec3::UnitZ()), minutes(53, 12), printed);
}

// Figure 5: cot C = √(cot²A + cot²B), tan R = tan A/tan B: the plane through both traces. Published example
// A 27°, B 36°: C 22°38.6′, R 35°2.5′. In our frame: a plane that rises 90° − A, 90° − B across its traces
// has the normal of a guide with those projected angles, and C is what is left of its lean to 90°.
TEST(CompoundAngle, FigureFiveIsTheComplementaryPlane) {
    const Vec3 axis = guide_axis(minutes(90 - 27, 0), minutes(90 - 36, 0));
    EXPECT_NEAR(pi / 2 - angle_between(axis, Vec3::UnitZ()), minutes(22, 38.6), printed);
    EXPECT_NEAR(std::atan2(axis.x(), axis.y()), minutes(35, 2.5), printed);
}

// Two rotations in a row, A about X then B about Y: cos C = cos A·cos B (computed: 10°, 20°
// give 22.268744495° and n = (0.336824089, −0.173648178, 0.925416578)). The setup's own order is the other
// one, Rx(tilt)·Ry(swing), and the angle is the same.
TEST(CompoundAngle, TwoRotations) {
    const Vec3 n = attitude_rotation(0, rad(20)) * attitude_rotation(rad(10), 0) * Vec3::UnitZ();
    EXPECT_NEAR((n - Vec3(0.336824089, -0.173648178, 0.925416578)).norm(), 0, 1e-9);
    EXPECT_NEAR(angle_between(n, Vec3::UnitZ()), rad(22.268744495), rad(5e-10));
    const Vec3 deck = attitude_rotation(rad(10), rad(20)).col(2);
    EXPECT_NEAR(angle_between(deck, Vec3::UnitZ()), rad(22.268744495), rad(5e-10));
}

}  // namespace
}  // namespace seatwright
