// Level readings: reversal, bias, means, outliers, what to turn and what it moves.
#include "seatwright/hold/level.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "job_fixtures.hpp"
#include "spoken.hpp"

namespace seatwright {
namespace {

job::Level reading(const std::string& valve, job::Across across, double first_deg,
                   std::optional<double> second_deg = std::nullopt, const std::string& head = "1") {
    job::Level r;
    r.head = head;
    r.valve = valve;
    r.across = across;
    r.first = rad(first_deg);
    if (second_deg) r.second = rad(*second_deg);
    return r;
}

constexpr auto along_incline = job::Across::incline;
constexpr auto cant = job::Across::cant;
constexpr double ok = 1e-15;

// Published example of a level read and turned end for end (scribd.com/doc/27926542, "How to calibrate
// engineers levels"): 4 divisions left, turned round 3 divisions right; space-fixed signs, so in the level's
// own sign 4 and 3: error 3.5, surface 0.5.
TEST(HoldLevel, ReversalExample) {
    auto job = fixtures::wedge_job();
    job.readings.levels = {reading("1I", along_incline, 4, 3)};
    const auto level = *hold::plan(job).level;
    EXPECT_NEAR(*level.incline, rad(0.5), ok);
    EXPECT_NEAR(*level.incline_bias, rad(3.5), ok);
    EXPECT_NEAR(*level.correction_tilt, rad(-0.5), ok);
    EXPECT_FALSE(level.cant.has_value());
    EXPECT_FALSE(level.correction_swing.has_value());
    EXPECT_FALSE(level.scatter.has_value());
    EXPECT_FALSE(level.incline_bias_sd.has_value());
    // Half a degree is beyond the plumb limit: it is said as a warning, too.
    const auto off = [](const hold::Hold& hold) {
        return std::any_of(hold.warnings.begin(), hold.warnings.end(),
                           [](const Warning& w) { return w.code == "level-off"; });
    };
    EXPECT_TRUE(off(hold::plan(job)));
    job.readings.levels = {reading("1I", along_incline, 0.04, 0)};
    EXPECT_FALSE(off(hold::plan(job)));
}

// A head that stands off by more than the plumb limit is cut neither there nor in another setup that was
// read, before it is set right and read again; or a lead lets it pass by the name of a guide read.
TEST(HoldLevel, ALeanBeyondThePlumbLimitHoldsItsSetup) {
    auto job = fixtures::pent_roof_job();
    const hold::Hold plain = hold::plan(job);
    ASSERT_EQ(plain.setups.size(), 2U);
    EXPECT_TRUE(plain.held_back.empty());
    const std::string& id = job.head.valves[plain.setups[1].valves[0].valve].id;
    job.readings.levels = {reading(id, along_incline, 0.06, -0.06)};
    const hold::Hold off = hold::plan(job);
    ASSERT_EQ(off.held_back.size(), 1U);
    EXPECT_EQ(off.held_back[0].code, HeldCode::plumb);
    EXPECT_EQ(off.held_back[0].setup, plain.setups[1].id);
    EXPECT_FALSE(off.held_back[0].valve);
    EXPECT_NE(spoken(off.held_back[0].frees).find("plumb " + id), std::string::npos)
        << spoken(off.held_back[0].frees);
    const auto blocks = [](const hold::Hold& hold) {
        return std::any_of(hold.warnings.begin(), hold.warnings.end(), [](const Warning& w) {
            return w.code == "level-off" && w.severity == Severity::blocking;
        });
    };
    EXPECT_TRUE(blocks(off));
    // Each axis within the limit of 0.05, both together beyond it: 0.04·√2 = 0.0566.
    job.readings.levels = {reading(id, along_incline, 0.04, -0.04), reading(id, cant, 0.04, -0.04)};
    EXPECT_EQ(hold::plan(job).held_back.size(), 1U);
    job.allow = {{"plumb " + id, "the seat is ground by hand after", "A. Lead", 1}};
    EXPECT_TRUE(hold::plan(job).held_back.empty());
    EXPECT_FALSE(blocks(hold::plan(job)));
    job.allow.clear();
    job.readings.levels = {reading(id, along_incline, 0.03, -0.03)};
    EXPECT_TRUE(hold::plan(job).held_back.empty());
}

TEST(HoldLevel, MeanScatterAndBiasOfSeveralGuides) {
    auto job = fixtures::wedge_job();
    job.readings.levels = {reading("1I", along_incline, 0.12, -0.08),
                           reading("2I", along_incline, 0.16, -0.06),
                           reading("4E", along_incline, 0.13, -0.07), reading("1I", cant, 0.02)};
    const auto hold = hold::plan(job);
    const auto& level = *hold.level;
    EXPECT_NEAR(*level.incline, rad((0.10 + 0.11 + 0.10) / 3), ok);
    EXPECT_NEAR(*level.incline_bias, rad((0.02 + 0.05 + 0.03) / 3), ok);
    const double mean = 0.31 / 3;
    const double squares = 2 * (0.10 - mean) * (0.10 - mean) + (0.11 - mean) * (0.11 - mean);
    EXPECT_NEAR(*level.scatter, rad(std::sqrt(squares / 2)), ok);
    EXPECT_NEAR(*level.cant, rad(0.02), ok);
    EXPECT_FALSE(level.cant_bias.has_value());
    const auto unknown = [](const Warning& w) { return w.code == "level-bias-unknown"; };
    EXPECT_EQ(std::count_if(hold.warnings.begin(), hold.warnings.end(), unknown), 1);
}

// One reading of the axis was reversed: its bias serves the others of the same sensor.
TEST(HoldLevel, AnUnreversedReadingTakesTheKnownBias) {
    auto job = fixtures::wedge_job();
    job.readings.levels = {reading("1I", along_incline, 0.12, -0.08), reading("2I", along_incline, 0.12)};
    const auto level = *hold::plan(job).level;
    EXPECT_NEAR(*level.guides[1].incline, rad(0.10), ok);
    EXPECT_NEAR(*level.incline, rad(0.10), ok);
}

TEST(HoldLevel, AFarGuideIsNamedAndLeftOut) {
    auto job = fixtures::wedge_job();
    job.readings.levels = {
        reading("1I", along_incline, 0.10, -0.10), reading("2I", along_incline, 0.11, -0.11),
        reading("3I", along_incline, 0.09, -0.09), reading("4I", along_incline, 0.90, -0.90),
        reading("4E", along_incline, 0.10, -0.10)};
    const auto hold = hold::plan(job);
    EXPECT_NEAR(*hold.level->incline, rad(0.10), ok);
    const auto named = std::find_if(hold.warnings.begin(), hold.warnings.end(),
                                    [](const Warning& w) { return w.code == "level-outlier"; });
    ASSERT_NE(named, hold.warnings.end());
    EXPECT_EQ(named->valve, "4I");
}

TEST(HoldLevel, TheLatestHeadCounts) {
    auto job = fixtures::wedge_job();
    job.readings.levels = {reading("1I", along_incline, 0.5, -0.5, "1"),
                           reading("1I", along_incline, 0.2, -0.2, "2")};
    const auto level = *hold::plan(job).level;
    EXPECT_EQ(level.head, "2");
    EXPECT_NEAR(*level.incline, rad(0.2), ok);
}

TEST(HoldLevel, TheHeadAskedForCounts) {
    auto job = fixtures::wedge_job();
    job.readings.levels = {reading("1I", along_incline, 0.5, -0.5, "1"),
                           reading("1I", along_incline, 0.2, -0.2, "2")};
    const auto hold = hold::plan(job, "1");
    ASSERT_TRUE(hold.level.has_value());
    EXPECT_EQ(hold.level->head, "1");
    EXPECT_NEAR(*hold.level->incline, rad(0.5), ok);
    const auto heads = [](const Warning& w) { return w.code == "level-heads"; };
    const auto said = std::find_if(hold.warnings.begin(), hold.warnings.end(), heads);
    ASSERT_NE(said, hold.warnings.end());
    EXPECT_NE(spoken(said->text).find("head 1 (as asked)"), std::string::npos) << spoken(said->text);
    // A head nobody levelled is not told of another's lean.
    const auto none = hold::plan(job, "3");
    EXPECT_FALSE(none.level.has_value());
    EXPECT_EQ(std::count_if(none.warnings.begin(), none.warnings.end(), heads), 1);
}

// A guide leaning towards +Y needs more tilt, since tilt takes upper ends towards −Y; one leaning towards +X
// needs less swing. Turning by the settings named brings the leaning guide plumb.
TEST(HoldLevel, SettingsBringTheLeaningGuidePlumb) {
    auto job = fixtures::wedge_job(2, 112, 24);
    job.fixture.swing = {rad(-10), rad(10)};
    for (auto& v : job.head.valves) v.cant = rad(4);
    job.readings.levels = {reading("1I", along_incline, 0.3, -0.3), reading("1I", cant, 0.2, -0.2)};
    const auto hold = hold::plan(job);
    const auto& setup = hold.setups[0];
    EXPECT_GT(*hold.level->set_tilt, 0);
    EXPECT_LT(*hold.level->set_swing, 0);
    const Vec3 leaning = guide_axis(rad(0.3), rad(0.2));  // in the machine frame, as read
    const Vec3 in_head = setup.rotation().transpose() * leaning;
    const Mat3 set =
        attitude_rotation(setup.tilt + *hold.level->set_tilt, setup.swing + *hold.level->set_swing);
    EXPECT_NEAR((set * in_head - Vec3::UnitZ()).norm(), 0, 1e-14);
    // The fixture has swing: both corrections are said, each with the scale to turn.
    EXPECT_EQ(hold.level->words.size(), 2u);
}

// Seats that all lie at the datum's height and row do not move; a seat an arm away moves by arm times turn.
TEST(HoldLevel, MapShiftIsArmTimesTurn) {
    auto job = fixtures::wedge_job(2, 112, 0);
    job.head.valves[3].seat.y() += 50;
    job.readings.levels = {reading("1I", along_incline, 0.1, -0.1)};
    const auto level = *hold::plan(job).level;
    EXPECT_NEAR(level.map_shift[1].shift.norm(), 0, 1e-12);
    EXPECT_NEAR(level.map_shift[3].shift.z(), 50 * std::sin(rad(0.1)), 1e-9);
}

bool blocks(const hold::Hold& hold) {
    return std::any_of(hold.warnings.begin(), hold.warnings.end(), [](const Warning& w) {
        return w.code == "level-contradict" && w.severity == Severity::blocking;
    });
}

// Half a degree one way and half a degree the other: the mean, 0, would say that the head stands plumb.
TEST(HoldLevel, LeansThatContradictAreNotAveraged) {
    auto job = fixtures::wedge_job();
    job.readings.levels = {reading("1I", along_incline, 0.5, -0.5), reading("4E", along_incline, -0.5, 0.5),
                           reading("1I", cant, 0.1, -0.1)};
    const auto hold = hold::plan(job);
    ASSERT_TRUE(blocks(hold));
    EXPECT_FALSE(hold.level->incline.has_value());
    EXPECT_FALSE(hold.level->correction_tilt.has_value());
    EXPECT_FALSE(hold.level->set_tilt.has_value());
    EXPECT_NEAR(*hold.level->cant, rad(0.1), ok) << "the other axis stands";
    EXPECT_NE(spoken(hold.level->words[0]).find("guide 4E leans"), std::string::npos)
        << spoken(hold.level->words[0]);
    ASSERT_EQ(hold.held_back.size(), 1u);
    EXPECT_EQ(hold.held_back[0].code, HeldCode::plumb);
    for (auto& r : job.readings.levels) r.sure = true;
    EXPECT_FALSE(blocks(hold::plan(job)));
    EXPECT_NEAR(*hold::plan(job).level->incline, 0, ok);
}

TEST(HoldLevel, OneGuideReadTwiceOrOneSensorWithTwoZerosContradicts) {
    auto job = fixtures::wedge_job();
    job.readings.levels = {reading("1I", along_incline, 0.3, -0.3), reading("1I", along_incline, -0.3, 0.3)};
    EXPECT_TRUE(blocks(hold::plan(job)));
    // The second reading of 2I has the wrong sign: by it the sensor would be off by 0.4 deg.
    job.readings.levels = {reading("1I", along_incline, 0.4, -0.4), reading("2I", along_incline, 0.4, 0.4)};
    EXPECT_TRUE(blocks(hold::plan(job)));
    job.readings.levels = {reading("1I", along_incline, 0.3, -0.3), reading("2I", along_incline, 0.4, -0.2)};
    EXPECT_FALSE(blocks(hold::plan(job)));
}

TEST(HoldLevel, ACorrectionTheFixtureCannotBeSetToIsNotOrdered) {
    auto job = fixtures::wedge_job();
    job.readings.levels = {reading("1I", along_incline, 0.008, -0.008)};
    auto level = *hold::plan(job).level;
    EXPECT_NEAR(*level.correction_tilt, rad(-0.008), ok) << "what the readings say stands";
    EXPECT_FALSE(level.set_tilt.has_value());
    ASSERT_EQ(level.words.size(), 1u);
    EXPECT_NE(spoken(level.words[0]).find("nothing to turn"), std::string::npos) << spoken(level.words[0]);
    job.fixture.step = rad(0.005);
    level = *hold::plan(job).level;
    EXPECT_TRUE(level.set_tilt.has_value());
    EXPECT_NE(spoken(level.words[0]).find("turn the head"), std::string::npos) << spoken(level.words[0]);
}

TEST(Travel, WhatIsNotGivenIsSaidToBeAssumed) {
    const auto assumed = [](const job::Job& job) {
        const hold::Hold held = hold::plan(job);
        return std::any_of(held.assumptions.begin(), held.assumptions.end(), [](const Sentence& said) {
            return spoken(said).find("travels far enough") != std::string::npos;
        });
    };
    job::Job job = fixtures::wedge_job(4, 112, 19.5);
    job.machine.travel_x = 1000;
    job.machine.travel_y = job.machine.travel_z = 400;
    EXPECT_FALSE(assumed(job));
    job.machine.travel_z.reset();
    EXPECT_TRUE(assumed(job));
}

}  // namespace
}  // namespace seatwright
