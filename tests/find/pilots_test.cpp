// Pilots: the rule by hand-worked cases, play by its formula, and guides told apart.
#include "seatwright/find/pilots.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "find_fixtures.hpp"
#include "spoken.hpp"

namespace seatwright::find {
namespace {

job::GuideBore bore(double top, double middle, double bottom) {
    return {"1", "1I", top, middle, bottom, 0};
}

const job::Pilot fixed{"f", job::PilotStyle::tapered, 8.72, 0.0005, 80, 8.4};

TEST(Pilots, TaperedPilotLocksWhereTheArithmeticSays) {
    // Straight bore 0.01 wider than the gauge line: it runs 0.01/0.0005 = 20 mm in and is held at the top.
    const Fit straight = fit_pilot(fixed, bore(8.73, 8.73, 8.73), 55);
    EXPECT_TRUE(straight.suits);
    EXPECT_NEAR(*straight.lock_depth, 20, 1e-9);
    EXPECT_DOUBLE_EQ(*straight.held_at, 0);
    // Hourglass: the middle, 27.5 mm down and 8.722, holds it at 27.5 + 0.002/0.0005 = 31.5.
    const Fit waist = fit_pilot(fixed, bore(8.74, 8.722, 8.74), 55);
    EXPECT_NEAR(*waist.lock_depth, 31.5, 1e-6);
    EXPECT_DOUBLE_EQ(*waist.held_at, 27.5);
    // Gauge line would stay above the top: too large. Would fall through: too small.
    EXPECT_FALSE(fit_pilot(fixed, bore(8.719, 8.73, 8.73), 55).suits);
    EXPECT_FALSE(fit_pilot(fixed, bore(8.80, 8.80, 8.80), 55).suits);
    // Exactly the size: locks with the gauge line at the top.
    EXPECT_TRUE(fit_pilot(fixed, bore(8.72, 8.72, 8.72), 55).suits);
}

TEST(Pilots, LivePilotNeedsClearanceAndPlaysByTheFormula) {
    job::Job job = fixtures::wedge_job();
    job.pilots = {{"8.70", job::PilotStyle::parallel, 8.70, 0, 80, 8.4},
                  {"8.72", job::PilotStyle::parallel, 8.72, 0, 80, 8.4},
                  {"8.74", job::PilotStyle::parallel, 8.74, 0, 80, 8.4}};
    const auto read = bore(8.735, 8.732, 8.734);
    const PilotChoice choice = choose_pilot(job, 0, &read);
    EXPECT_EQ(choice.pilot, 1U);
    // Clearance 0.012, h 40, L 55: the radius of play at the seat.
    EXPECT_NEAR(*choice.play, 0.012 * (0.5 + 40.0 / 55.0), 1e-12);
    // Rule of the trade: 0.01 mm of play, 50 mm guide, 40 mm reach give 0.013 at the seat (derived).
    job.guide[job.head.valves[0].kind]->length = 50;
    const auto straight = bore(8.73, 8.73, 8.73);
    EXPECT_NEAR(*choose_pilot(job, 0, &straight).play, 0.013, 1e-9);
}

TEST(Pilots, TheLargestThatSuitsIsTaken) {
    const job::Job job = fixtures::wedge_job();
    const auto read = bore(8.736, 8.735, 8.735);
    const PilotChoice choice = choose_pilot(job, 0, &read);
    ASSERT_TRUE(choice.pilot);
    EXPECT_EQ(job.pilots[*choice.pilot].name, "8.73");
    EXPECT_EQ(choice.play, 0);
    EXPECT_FALSE(choice.repair);
    const auto small = bore(8.60, 8.60, 8.60);
    EXPECT_FALSE(choose_pilot(job, 0, &small).pilot);
}

TEST(Pilots, UnreadGuideTakesTheDrawingBore) {
    const job::Job job = fixtures::wedge_job();
    const PilotChoice choice = choose_pilot(job, 0, nullptr);
    ASSERT_TRUE(choice.pilot);
    EXPECT_EQ(job.pilots[*choice.pilot].name, "8.73");
    EXPECT_NE(spoken(choice.reason).find("not read"), std::string::npos);
    EXPECT_NEAR(*entry_clearance(job, choice), 0.55, 1e-12);
}

TEST(Pilots, HourglassAndBellMouthAreToldApart) {
    EXPECT_EQ(bore_shape(bore(8.73, 8.73, 8.73), 0.025), BoreShape::straight);
    EXPECT_EQ(bore_shape(bore(8.77, 8.73, 8.73), 0.025), BoreShape::bell_top);
    EXPECT_EQ(bore_shape(bore(8.73, 8.73, 8.77), 0.025), BoreShape::bell_bottom);
    EXPECT_EQ(bore_shape(bore(8.77, 8.73, 8.76), 0.025), BoreShape::hourglass);
    EXPECT_EQ(bore_shape(bore(8.77, 8.73, 8.75), 0.025), BoreShape::hourglass);
    EXPECT_EQ(bore_shape(bore(8.73, 8.77, 8.73), 0.025), BoreShape::barrel);
    EXPECT_EQ(bore_shape(bore(8.77, 8.75, 8.73), 0.025), BoreShape::tapered);
}

TEST(Pilots, GuidesBeyondLimitsStopTheirSeats) {
    job::Job job = fixtures::wedge_job();
    const hold::Hold hold = fixtures::hold_of(job);
    const struct {
        job::GuideBore read;
        bool repair;
        const char* word;
    } cases[] = {{bore(8.74, 8.735, 8.735), false, ""},
                 {bore(8.84, 8.835, 8.835), true, "beyond its limit"},
                 {bore(8.78, 8.735, 8.735), true, "bell-mouthed at the top"},
                 {bore(8.78, 8.735, 8.77), true, "hourglass"}};
    for (const auto& one : cases) {
        job.readings.guides = {one.read};
        const Find find = locate(job, hold);
        const auto valve = *job.head.index_of("1I");
        EXPECT_EQ(find.pilots[valve].repair, one.repair);
        EXPECT_NE(spoken(find.pilots[valve].reason).find(one.word), std::string::npos)
            << spoken(find.pilots[valve].reason);
        const bool stopped = std::any_of(find.warnings.begin(), find.warnings.end(), [](const Warning& w) {
            return w.code == "guide-repair" && w.severity == Severity::blocking;
        });
        EXPECT_EQ(stopped, one.repair);
    }
}

// Reasons and warnings are for a person: in the job's unit, whatever is asked of them.
TEST(Pilots, InchJobsAreSpokenToInInches) {
    job::Job job = fixtures::wedge_job();
    const hold::Hold hold = fixtures::hold_of(job);
    for (const auto unit : {LengthUnit::mm, LengthUnit::inch}) {
        job.units = unit;
        const std::string other = unit == LengthUnit::inch ? " mm" : " in";
        const std::string own = unit == LengthUnit::inch ? " in" : " mm";
        for (const auto& read : {bore(8.735, 8.735, 8.735), bore(8.84, 8.735, 8.735), bore(8.0, 8.0, 8.0)}) {
            job.readings.guides = {read};
            const Find find = locate(job, hold);
            std::string said = spoken(find.pilots[*job.head.index_of("1I")].reason, job.units);
            for (const Warning& w : find.warnings)
                if (w.valve == "1I") said += spoken(w.text, job.units);
            EXPECT_NE(said.find(own), std::string::npos) << said;
            EXPECT_EQ(said.find(other), std::string::npos) << said;
        }
    }
}

// The pilot of this head's own readings decides its enter probability.
TEST(Pilots, EntryGoesByTheHeadsOwnGuide) {
    job::Job job = fixtures::wedge_job();
    job.pilots[0].tip = 8.0;
    job.readings.touches = {{"1", "1E", {0, 0}, std::nullopt, 0}, {"2", "1E", {0, 0}, std::nullopt, 0}};
    job.readings.guides = {{"2", "1I", 8.72, 8.72, 8.72, 0}};
    const Find find = locate(job, fixtures::hold_of(job));
    ASSERT_EQ(find.heads.size(), 2U);
    const auto valve = *job.head.index_of("1I");
    EXPECT_EQ(job.pilots[*find.heads[0].pilots[valve].pilot].name, "8.73");
    EXPECT_EQ(job.pilots[*find.heads[1].pilots[valve].pilot].name, "8.72 live");
}

}  // namespace
}  // namespace seatwright::find
