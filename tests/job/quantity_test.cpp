// Numbers as people write them.
#include "seatwright/job/quantity.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace seatwright::job {
namespace {

struct Case {
    const char* text;
    Dimension dimension;
    double mm_file;  // in memory units, read in a mm file
};

double read(const char* text, Dimension dimension, LengthUnit units = LengthUnit::mm) {
    const auto value = parse_quantity(text, dimension, units);
    EXPECT_TRUE(value) << text << ": " << (value ? "" : value.error());
    return value.value_or(NAN);
}

std::string refused(const char* text, Dimension dimension) {
    const auto value = parse_quantity(text, dimension, LengthUnit::mm);
    EXPECT_FALSE(value) << text << " read as " << value.value_or(0);
    return value ? "" : value.error();
}

// Factors: NIST SP 811, appendix B (exact ones by definition of inch, pound and standard gravity).
TEST(Quantity, UnitsOfEveryDimension) {
    using enum Dimension;
    const Case cases[] = {
        {"38.1 mm", length, 38.1},
        {"1.5 in", length, 38.1},
        {"0.0015 in", length, 0.0381},
        {"50 um", length, 0.05},
        {"50 \u00b5m", length, 0.05},
        {"50 \u03bcm", length, 0.05},
        {"3.2 cm", length, 32},
        {"0.5 m", length, 500},
        {"5 thou", length, 0.127},
        {"1 ft", length, 304.8},
        {"1.5\"", length, 38.1},
        {"39.7mm", length, 39.7},
        {" 2  in ", length, 50.8},
        {"0,05 mm", length, 0.05},
        {"1-9/16 in", length, 39.6875},
        {"1 9/16 in", length, 39.6875},
        {"9/16\"", length, 14.2875},
        {"-1-1/2 in", length, -38.1},
        {".0015", length, 0.0015},
        {"+2.", length, 2},
        {"1e-2 in", length, 0.254},
        {"2E+1 mm", length, 20},
        {"1\u00bd in", length, 38.1},
        {"\u22120.5 mm", length, -0.5},
        {"0.05 mm/turn", feed, 0.05},
        {"0.002 in/rev", feed, 0.0508},
        {"0.05", feed, 0.05},
        {"15 deg", angle, rad(15)},
        {"15", angle, rad(15)},
        {"0.5 rad", angle, 0.5},
        {"30 min", angle, rad(0.5)},
        {"30'", angle, rad(0.5)},
        {"15\u00b0", angle, rad(15)},
        {"-0.08 deg", angle, rad(-0.08)},
        {"21 kg", mass, 21},
        {"500 g", mass, 0.5},
        {"40 lb", mass, 18.1436948},
        {"16 oz", mass, 0.45359237},
        {"6 kN", force, 6000},
        {"10 lbf", force, 44.4822161526},
        {"10 lb", force, 44.4822161526},
        {"2.2 kW", power, 2200},
        {"1 hp", power, 745.69987158227},
        {"500", power, 500},
        {"40 Nm", torque, 40'000},
        {"40 N m", torque, 40'000},
        {"40 N\u00b7m", torque, 40'000},
        {"40", torque, 40'000},
        {"1 lb ft", torque, 1355.8179483314},
        {"1 ft-lb", torque, 1355.8179483314},
        {"1 lb in", torque, 112.98482902762},
        {"180 Hz", frequency, 180},
        {"2 N/um", stiffness, 2000},
        {"12 N/\u00b5m", stiffness, 12'000},
        {"500 N/mm", stiffness, 500},
        {"1e6 N/m", stiffness, 1000},
        {"2", stiffness, 2000},
        {"1150 N/mm2", specific_cut, 1150},
        {"1150 N/mm\u00b2", specific_cut, 1150},
        {"1150 MPa", specific_cut, 1150},
        {"1150", specific_cut, 1150},
        {"110 GPa", modulus, 110'000},
        {"110", modulus, 110'000},
        {"30e6 psi", modulus, 206'842.71879},
        {"11.4 um/m/K", expansion, 11.4e-6},
        {"11.4e-6 1/K", expansion, 11.4e-6},
        {"11.4 1e-6/K", expansion, 11.4e-6},
        {"11.4", expansion, 11.4e-6},
        {"60 m/min", surface_speed, 60},
        {"1 m/s", surface_speed, 60},
        {"100 ft/min", surface_speed, 30.48},
        {"6 m/min", axis_speed, 100},
        {"6", axis_speed, 100},
        {"100 in/min", axis_speed, 2540.0 / 60},
        {"25 mm/s", axis_speed, 25},
        {"0.5 m/s2", acceleration, 500},
        {"500 mm/s\u00b2", acceleration, 500},
        {"0.5", acceleration, 500},
        {"0.5 cm3", volume, 500},
        {"64.1", volume, 64'100},
        {"1 l", volume, 1e6},
        {"1 in3", volume, 16'387.064},
        {"64 cc", volume, 64'000},
        {"500 mm^3", volume, 500},
        {"46 cm2", area, 4600},
        {"1 in2", area, 645.16},
        {"80 kPa", vacuum, 80},
        {"25 inHg", vacuum, 84.65971600852},
        {"800 mbar", vacuum, 80},
        {"10 psi", vacuum, 68.947572932},
        {"0.0005 in/in", ratio, 0.0005},
        {"0.0005 mm/mm", ratio, 0.0005},
        {"0.05 mm/100 mm", ratio, 0.0005},
        {"0.5 mm/m", ratio, 0.0005},
        {"1/2000", ratio, 0.0005},
        {"15 %", ratio, 0.15},
        {"0.15", ratio, 0.15},
        {"300 rpm", rotation, 300},
        {"300 1/min", rotation, 300},
        {"0,2", number, 0.2},
    };
    for (const auto& c : cases) {
        const double value = read(c.text, c.dimension);
        EXPECT_NEAR(value, c.mm_file, 1e-10 * std::max(1.0, std::abs(c.mm_file))) << c.text;
    }
}

TEST(Quantity, BareLengthsAreInTheFilesUnits) {
    EXPECT_DOUBLE_EQ(read("1.5", Dimension::length, LengthUnit::inch), 38.1);
    EXPECT_DOUBLE_EQ(read("1-9/16", Dimension::length, LengthUnit::inch), 39.6875);
    EXPECT_DOUBLE_EQ(read("39.7mm", Dimension::length, LengthUnit::inch), 39.7);
    EXPECT_DOUBLE_EQ(from_bare(1.5, Dimension::length, LengthUnit::inch), 38.1);
    EXPECT_DOUBLE_EQ(to_bare(38.1, Dimension::length, LengthUnit::inch), 1.5);
    EXPECT_DOUBLE_EQ(from_bare(15, Dimension::angle, LengthUnit::inch), rad(15));
}

TEST(Quantity, WrongUnitSaysWhichWouldBeRight) {
    EXPECT_EQ(
        refused("3 kg", Dimension::length),
        "\"kg\" is the unit of a mass; a length is wanted here, in one of: mm, in, um, cm, m, thou, ft");
    EXPECT_EQ(refused("3 mm", Dimension::angle),
              "\"mm\" is the unit of a length; an angle is wanted here, in one of: deg, rad, min, mrad");
    EXPECT_EQ(
        refused("3 furlong", Dimension::length),
        "\"furlong\" is not a unit known here; a length is wanted, in one of: mm, in, um, cm, m, thou, ft");
    EXPECT_NE(refused("25 bananas", Dimension::vacuum).find("kPa, inHg"), std::string::npos);
}

TEST(Quantity, NonsenseGetsASentence) {
    for (const char* text :
         {"", "  ", "abc", "mm", "-", ".", ",", "1,234.5", "1.2.3", "1/0 in", "--1", "1e999", "NaN", "inf"})
        EXPECT_GT(refused(text, Dimension::length).size(), 15u) << text;
    for (const char* text : {"1/0 in", "1-9/0 in", "1 9/00"})
        EXPECT_NE(refused(text, Dimension::length).find("divides by 0"), std::string::npos) << text;
}

TEST(Quantity, BareValuesGoThereAndBack) {
    for (int d = 0; d <= static_cast<int>(Dimension::number); ++d)
        for (const auto units : {LengthUnit::mm, LengthUnit::inch}) {
            const auto dimension = static_cast<Dimension>(d);
            EXPECT_NEAR(to_bare(from_bare(1.7, dimension, units), dimension, units), 1.7, 1e-14);
        }
}

}  // namespace
}  // namespace seatwright::job
