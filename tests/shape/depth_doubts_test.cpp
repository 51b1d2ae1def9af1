// Depths over 1 mm and recessions over 3 mm are asked about once (working.md's table).
#include "seatwright/shape/depth_doubts.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "../job_fixtures.hpp"
#include "spoken.hpp"

namespace seatwright::shape {
namespace {

Shape shape_of_depths(double depth, std::optional<double> recession) {
    Shape shape;
    shape.head = "1";
    Seat seat;
    seat.valve = 1;
    seat.depth = depth;
    seat.height.recession = recession;
    seat.height.from = HeightFrom::below_deck;
    shape.seats = {seat};
    return shape;
}

TEST(DepthDoubts, ADepthOverOneMillimetre) {
    auto job = fixtures::wedge_job();
    EXPECT_TRUE(depth_doubts(job, shape_of_depths(1.0, {})).empty());
    const auto asked = depth_doubts(job, shape_of_depths(1.31, {}));
    ASSERT_EQ(asked.size(), 1u);
    EXPECT_EQ(spoken(job::sure_words(asked[0])), "depth.1I = 1.31 mm");
    EXPECT_EQ(asked[0].valve, "1I");
    job.sure = {{"depth.1I = 1.31 mm", 1}};
    EXPECT_TRUE(depth_doubts(job, shape_of_depths(1.31, {})).empty());
    EXPECT_EQ(depth_doubts(job, shape_of_depths(1.32, {})).size(), 1u) << "another value asks again";
    job.depth.seats = {{"1I", 1.32, {}, 0}};
    EXPECT_TRUE(depth_doubts(job, shape_of_depths(1.32, {})).empty()) << "asked about where it was typed";
}

TEST(DepthDoubts, ARecessionOverThreeMillimetres) {
    auto job = fixtures::wedge_job();
    EXPECT_TRUE(recession_doubts(job, shape_of_depths(0.2, 3.0)).empty());
    ASSERT_EQ(recession_doubts(job, shape_of_depths(0.2, 3.4)).size(), 1u);
    EXPECT_TRUE(recession_doubts(job, shape_of_depths(0.2, -0.5)).empty());
    const auto proud = recession_doubts(job, shape_of_depths(0.2, -0.62));
    ASSERT_EQ(proud.size(), 1u);
    EXPECT_EQ(spoken(job::sure_words(proud[0])), "recession.1I = -0.62 mm");
    EXPECT_NE(spoken(proud[0].text).find("0.62 mm above its drawing height; more than 0.5 mm"),
              std::string::npos)
        << spoken(proud[0].text);
    job::SeatBefore read;
    read.valve = "1I";
    read.sure = true;
    job.readings.seats = {read};
    EXPECT_TRUE(recession_doubts(job, shape_of_depths(0.2, 3.4)).empty());
}

// The virtual shop's case: three seats of a kind, one of them typed with a minus.
TEST(DepthDoubts, ARecessionWithTheWrongSignIsSaid) {
    const auto job = fixtures::wedge_job();
    const auto typed = [&](double odd, double step = 0.02) {
        Shape shape;
        shape.head = "1";
        int read = 0;
        for (std::size_t v = 0; v < job.head.valves.size(); ++v) {
            if (job.head.valves[v].kind != job.head.valves[1].kind) continue;
            Seat seat;
            seat.valve = v;
            seat.height.recession = v == 1 ? odd : 0.25 + step * ++read;
            seat.height.from = HeightFrom::recession;
            shape.seats.push_back(seat);
        }
        return odd_signs(job, shape);
    };
    const auto said = typed(-0.30);
    ASSERT_EQ(said.size(), 1u);
    EXPECT_EQ(said[0].code, "recession-sign");
    EXPECT_EQ(said[0].valve, job.head.valves[1].id);
    EXPECT_TRUE(typed(0.30).empty());
    EXPECT_TRUE(typed(-0.05).empty()) << "a seat a little proud";
    EXPECT_TRUE(typed(-1.20).empty()) << "would not fit with a plus either";
    EXPECT_EQ(typed(-1.20, 0.5).size(), 1u) << "one of the others is as deep";
}

// Two readings of one seat: where another seat's Z0 is touched on it, that one waits too.
TEST(DepthDoubts, TwoReadingsOfTheTouchedSeatHoldThoseThatAreMeasuredFromIt) {
    auto job = fixtures::wedge_job();
    Shape shape = shape_of_depths(0.2, 0.3);
    const std::string& id = job.head.valves[1].id;
    job.readings.seats = {{.valve = id, .recession = 0.18, .line = 4},
                          {.valve = id, .recession = 0.48, .line = 8}};
    shape.seats[0].height.touched = 1;  // its own
    ASSERT_EQ(repeated_doubts(job, shape).size(), 1u);
    EXPECT_EQ(repeated_doubts(job, shape)[0].valve, id);
    shape.seats.push_back(shape.seats[0]);
    shape.seats[1].valve = 3;
    ASSERT_EQ(repeated_doubts(job, shape).size(), 1u);
    EXPECT_FALSE(repeated_doubts(job, shape)[0].valve);
    ask_about_seats(job, shape, 0);
    EXPECT_EQ(std::count_if(shape.held_back.begin(), shape.held_back.end(),
                            [](const HeldBack& held) {
                                return held.code == HeldCode::doubt &&
                                       spoken(held.reason).find("stands twice") != std::string::npos;
                            }),
              1);
}

// An untouched seat reads 0 too.
TEST(DepthDoubts, AFirstSeatReadAsNoDeeperThanBefore) {
    auto job = fixtures::wedge_job();
    Shape shape = shape_of_depths(0.2, 0.3);
    shape.seats[0].stop_s = -0.5;
    const std::string& id = job.head.valves[1].id;
    const auto asked = [&](std::optional<double> depth, bool sure = false) {
        job.readings.firsts = {{.valve = id, .depth = depth, .sure = sure}};
        return uncut_doubts(job, shape);
    };
    EXPECT_TRUE(asked(0.085).empty());
    EXPECT_TRUE(asked(std::nullopt).empty());
    ASSERT_EQ(asked(0).size(), 1u);
    EXPECT_EQ(asked(0)[0].key, "reading.first.1.1I.depth");
    EXPECT_FALSE(asked(0)[0].valve) << "it moves every stop of its file";
    EXPECT_TRUE(asked(0)[0].reading);
    EXPECT_TRUE(asked(0, true).empty());
    ask_about_seats(job, shape, 0);
    EXPECT_TRUE(shape.held_back.empty());
    asked(0);
    ask_about_seats(job, shape, 0);
    ASSERT_EQ(shape.held_back.size(), 1u);
    EXPECT_EQ(shape.held_back[0].code, HeldCode::doubt);
    shape.seats[0].decision = Decision::not_allowed;
    EXPECT_TRUE(asked(0).empty()) << "nothing was to cut it";
}

// With the valve used before, an untouched seat reads the height it read before.
TEST(DepthDoubts, AFirstSeatReadAtTheHeightOfTheOldOne) {
    auto job = fixtures::wedge_job();
    Shape shape = shape_of_depths(0.2, 0.3);
    shape.seats[0].stop_s = -0.5;
    const std::string& id = job.head.valves[1].id;
    job.readings.seats = {{.valve = id, .stem_height = 44.3, .below_deck = 1.2}};
    const auto asked = [&](job::FirstSeat first) {
        first.valve = id;
        job.readings.firsts = {first};
        return uncut_doubts(job, shape);
    };
    EXPECT_TRUE(asked({.stem_height = 44.4}).empty());
    ASSERT_EQ(asked({.stem_height = 44.3}).size(), 1u);
    EXPECT_EQ(asked({.stem_height = 44.3})[0].key, "reading.first.1.1I.stem_height");
    EXPECT_EQ(asked({.stem_height = 44.28}).size(), 1u);
    EXPECT_TRUE(asked({.below_deck = 1.3}).empty());
    ASSERT_EQ(asked({.below_deck = 1.2}).size(), 1u);
    EXPECT_EQ(asked({.below_deck = 1.2})[0].key, "reading.first.1.1I.below_deck");
    EXPECT_TRUE(asked({.below_deck = 1.2, .sure = true}).empty());
    shape.seats[0].height.recession.reset();
    EXPECT_TRUE(asked({.stem_height = 44.3}).empty()) << "there is nothing to count from";
}

TEST(DepthDoubts, ThreeOpenAlreadyHoldTheHeadBackUnasked) {
    auto job = fixtures::wedge_job();
    Shape shape = shape_of_depths(1.31, {});
    ask_about_seats(job, shape, job::most_open);
    EXPECT_TRUE(shape.warnings.empty());
    ASSERT_EQ(shape.held_back.size(), 1u);
    EXPECT_EQ(shape.held_back[0].code, HeldCode::doubt);
}

}  // namespace
}  // namespace seatwright::shape
