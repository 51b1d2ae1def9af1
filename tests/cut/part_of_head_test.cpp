// Programs for part of a head (--only), and what is held back of a whole head. Invented head of
// programmed.hpp, all of it in one setup: Z0 touched on 2E and 2I, 1E and 3I cut first.
#include <gtest/gtest.h>

#include <algorithm>

#include "cut/programmed.hpp"
#include "seatwright/cut/zeros.hpp"
#include "spoken.hpp"

namespace seatwright::cut {
namespace {

struct Part {
    fixtures::Programmed base = fixtures::planned(fixtures::programmed_job());
    job::Job job = base.job;

    Cut cut(std::vector<std::string> only) const {
        const auto shape = shape::design(job, base.hold, base.find, "1");
        return plan(job, base.hold, base.find, shape, {.only = std::move(only)});
    }
};

std::string ids_of(const Cut& cut) {
    std::string out;
    for (const HeldBack& held : cut.held_back)
        out += (out.empty() ? "" : " ") + held.setup + "/" + held.valve.value_or("");
    return out;
}

// Whatever concerns the whole head is held back of every setup, so that each entry names one.
TEST(PartOfHead, WhatHoldsTheWholeHeadHoldsEverySetup) {
    fixtures::Programmed p = fixtures::planned(fixtures::pent_roof_job());
    ASSERT_GT(p.hold.setups.size(), 1U);
    HeldBack whole;
    whole.code = HeldCode::doubt;
    whole.reason = saying("The whole file reads as if its lengths were in inches.");
    whole.frees = saying("correct it");
    p.hold.held_back = {whole};
    whole.frees = saying("correct that");  // another question
    p.hold.held_back.push_back(whole);
    const Cut cut = plan(p.job, p.hold, p.find, p.shape);
    EXPECT_TRUE(cut.programs.empty());
    for (const hold::Setup& setup : p.hold.setups)
        EXPECT_EQ(std::count_if(cut.held_back.begin(), cut.held_back.end(),
                                [&](const HeldBack& held) {
                                    return held.setup == setup.id && held.code == HeldCode::doubt;
                                }),
                  2)
            << setup.id;
    for (const HeldBack& held : cut.held_back) EXPECT_FALSE(held.setup.empty()) << spoken(held.reason);
}

TEST(PartOfHead, WhatIsHeldBackOfTheRestIsNotSaid) {
    Part part;
    erase_if(part.job.readings.seats, [](const auto& seat) { return seat.valve == "1I"; });
    part.job.seat.intake->old_as_drawn = false;
    const Cut whole = part.cut({});
    EXPECT_NE(ids_of(whole).find("A/1I"), std::string::npos);
    const Cut three = part.cut({"3I"});
    EXPECT_EQ(ids_of(three), "");
    EXPECT_EQ(three.programs.size(), 1U);
    EXPECT_EQ(ids_of(part.cut({"1I", "3I"})), "A/1I");
}

// Z0 cannot be taken in any setup; asked for is one seat.
TEST(PartOfHead, AZeroThatCannotBeTakenIsSaidOfTheSeatsAskedForAlone) {
    Part part;
    part.job.depth.from = job::DepthFrom::finished;  // and none is
    EXPECT_EQ(ids_of(part.cut({"3I"})), "A/3I");
}

// 3I was cut first by the whole head's file, Z0 being taken on 2I; then 3I and 4I are asked for, of which the
// part alone would touch 3I.
TEST(PartOfHead, AfterTheWholeHeadsFirstSeatZ0StaysWhereItWasTaken) {
    Part part;
    const Cut before = part.cut({"3I", "1I"});
    ASSERT_EQ(before.programs.size(), 1U);
    const Stop& own_first = before.programs[0].route.stops.front();
    const std::string read = own_first.id == "1I" ? "3I" : "1I";
    const Cut whole = part.cut({});
    const auto first_of_whole = std::any_of(whole.programs.begin(), whole.programs.end(),
                                            [&](const auto& p) { return p.route.stops.front().id == read; });
    ASSERT_TRUE(first_of_whole) << read;
    job::FirstSeat reading;
    reading.valve = read;
    reading.depth = 0.075;
    part.job.readings.firsts = {reading};
    const Cut after = part.cut({"3I", "1I"});
    EXPECT_EQ(ids_of(after), "");
    ASSERT_EQ(after.programs.size(), 1U);
    const Route& route = after.programs[0].route;
    EXPECT_EQ(route.part, FilePart::rest);
    EXPECT_EQ(part.job.head.valves[*route.zeros.front().taken.valve].id, "2I");
    // Planned 0.14, cut 0.10 short: 0.075 is 0.035 deeper.
    EXPECT_NEAR(route.zeros.front().trim, 0.035, 1e-9);
    EXPECT_EQ(route.stops.size(), 2U);
}

}  // namespace
}  // namespace seatwright::cut
