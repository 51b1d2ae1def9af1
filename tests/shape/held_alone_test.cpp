// A seat that is held back anyway sinks no other. By hand: a spread of 0.30 and steps of 0.01; eight seats
// that each clean up at 0.14. One that needs 0.84 would take its three fellows to 0.54. Invented data.
#include <gtest/gtest.h>

#include <algorithm>

#include "job_fixtures.hpp"
#include "seatwright/shape/shape.hpp"

namespace seatwright::shape {
namespace {

constexpr double plain = 0.14;

job::Job worn_job() {
    auto job = fixtures::wedge_job();
    for (const auto& v : job.head.valves) {
        job::SeatBefore r;
        r.valve = v.id;
        r.stem_height = 47.5;
        r.recession = 0.05;
        r.cleanup = 0.12;
        job.readings.seats.push_back(r);
    }
    return job;
}

const Seat& seat_of(const job::Job& job, const Shape& shape, const char* id) {
    return shape.seats.at(*job.head.index_of(id));
}

void expect_others_unmoved(const job::Job& job, const Shape& shape, const std::string& held) {
    for (const Seat& seat : shape.seats) {
        const std::string& id = job.head.valves[seat.valve].id;
        if (id == held) continue;
        EXPECT_NEAR(seat.depth.value(), plain, 1e-9) << id;
    }
}

bool too_deep(const Shape& shape, const std::string& valve) {
    return std::any_of(shape.held_back.begin(), shape.held_back.end(),
                       [&](const HeldBack& h) { return h.valve == valve && h.code == HeldCode::too_deep; });
}

TEST(HeldAlone, ADepthByHandBeyondItsLimitSinksNoOther) {
    auto job = worn_job();
    for (const auto kind : job::both_kinds) job.seat[kind]->recession_max = 0.8;
    job.depth.seats.push_back({"1I", 0.84, std::nullopt, 0});
    const Shape shape = design(job, {}, {}, "1");
    EXPECT_TRUE(too_deep(shape, "1I"));
    EXPECT_NEAR(seat_of(job, shape, "1I").depth.value(), 0.84, 1e-12);
    expect_others_unmoved(job, shape, "1I");
    EXPECT_NEAR(*shape.depth.total, 0.84 + 7 * plain, 1e-9);
    EXPECT_NEAR(shape.depth.stem_spread.intake.value(), 0, 1e-9);
    // Within its limit it is cut, and the others follow it.
    for (const auto kind : job::both_kinds) job.seat[kind]->recession_max = 1.5;
    const Shape cut = design(job, {}, {}, "1");
    EXPECT_FALSE(too_deep(cut, "1I"));
    EXPECT_NEAR(seat_of(job, cut, "3I").depth.value(), 0.54, 1e-9);
}

TEST(HeldAlone, AGuideToBeRepairedSinksNoOtherUnlessItIsAllowed) {
    auto job = worn_job();
    job.readings.seats[*job.head.index_of("1I")].cleanup = 0.82;
    job.guide.intake->bore_max = job.guide.intake->bore.value() + 0.07;
    job::GuideBore read;
    read.valve = "1I";
    read.top = read.middle = read.bottom = *job.guide.intake->bore_max + 0.02;
    job.readings.guides.push_back(read);
    const Shape shape = design(job, {}, {}, "1");
    expect_others_unmoved(job, shape, "1I");
    EXPECT_NEAR(seat_of(job, shape, "1I").depth.value(), 0.84, 1e-9);
    job.allow.push_back({"guide 1I", "agreed with the owner", "the lead"});
    EXPECT_NEAR(seat_of(job, design(job, {}, {}, "1"), "3I").depth.value(), 0.54, 1e-9);
    job.allow.clear();
    // A later reading, after the repair.
    read.top = read.middle = read.bottom = *job.guide.intake->bore;
    job.readings.guides.push_back(read);
    EXPECT_NEAR(seat_of(job, design(job, {}, {}, "1"), "3I").depth.value(), 0.54, 1e-9);
}

// A depth tried on such a seat is still shown with what it brings, and moves nothing else.
TEST(HeldAlone, AnAskedDepthIsTakenThere) {
    auto job = worn_job();
    for (const auto kind : job::both_kinds) job.seat[kind]->recession_max = 0.8;
    job.depth.seats.push_back({"1I", 0.84, std::nullopt, 0});
    const Shape shape = with_depths(job, {}, {}, "1", {{"1I", 0.4}});
    EXPECT_NEAR(seat_of(job, shape, "1I").depth.value(), 0.4, 1e-12);
    expect_others_unmoved(job, shape, "1I");
    EXPECT_NEAR(*shape.depth.total, 0.4 + 7 * plain, 1e-9);
}

}  // namespace
}  // namespace seatwright::shape
