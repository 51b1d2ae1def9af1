// Gauges of the shelf: each quantity with its own uncertainty, and a calibration that has run out. Invented.
#include <gtest/gtest.h>

#include <algorithm>

#include "seatwright/job/reader.hpp"
#include "seatwright/job/writer.hpp"
#include "seatwright/prove/prove.hpp"

namespace seatwright::prove {
namespace {

job::Job job_with(const std::string& more) {
    auto read = job::read_job(R"(title = "gauges"
units = "mm"
[head]
name = "h"
material = "grey iron"
[[head.valve]]
id = "1I"
cylinder = 1
kind = "intake"
x = 0
y = 0
z = -10
incline = 10
cant = 0
[valve.intake]
head_diameter = 40
[seat.intake]
angle = 45
width = 1.5
inset = 0.5
width_tol = 0.2
runout_max = 0.05
stem_height_max = 48
[[gauge]]
name = "dial"
reads = ["runout"]
u = 0.002
calibrated_until = "2026-06-30"
[[gauge]]
name = "lens"
reads = ["width"]
u = 0.03
)" + more,
                              "gauges.toml", {});
    if (!read) {
        for (const auto& fault : read.error()) ADD_FAILURE() << to_line(fault);
        return {};
    }
    return std::move(*read);
}

const std::string reading = R"([[reading.proof]]
head = "1"
valve = "1I"
runout = 0.02
width = [1.5]
stem_height = 47
gauge_u = 0.001
date = "2026-07-02"
)";

double u_of(const Proof& proof, const char* what) {
    for (const auto& j : proof.seats.front().judgements)
        if (j.what == what) return j.u.value_or(-1);
    return -2;
}

bool overdue(const Proof& proof) {
    return std::any_of(proof.warnings.begin(), proof.warnings.end(),
                       [](const Warning& w) { return w.code == "gauge-overdue"; });
}

TEST(Gauges, EachQuantityHasItsOwn) {
    const auto job = job_with(reading + "gauge = { runout = \"dial\", width = \"lens\" }\n");
    const Proof proof = judge(job);
    EXPECT_DOUBLE_EQ(u_of(proof, "runout"), 0.004);
    EXPECT_DOUBLE_EQ(u_of(proof, "width"), 0.06);
    EXPECT_DOUBLE_EQ(u_of(proof, "stem height"), 0.002) << "no gauge is named: the reading's own";
    EXPECT_TRUE(overdue(proof));
    EXPECT_EQ(proof.seats.front().gauge, "runout dial, width lens");
    // Written and read again it is the same reading.
    const std::string text = job::to_toml(job.readings.proofs.front(), LengthUnit::mm);
    const auto again = job_with(text);
    ASSERT_EQ(again.readings.proofs.size(), 1u);
    EXPECT_EQ(again.readings.proofs.front().gauges, job.readings.proofs.front().gauges);
}

TEST(Gauges, OneNameForAllCountsWhereItReads) {
    const Proof proof = judge(job_with(reading + "gauge = \"dial\"\n"));
    EXPECT_DOUBLE_EQ(u_of(proof, "runout"), 0.004);
    EXPECT_DOUBLE_EQ(u_of(proof, "width"), 0.002) << "the dial reads no widths";
}

TEST(Gauges, ANameThatIsNotOnTheShelfIsARemark) {
    const Proof proof = judge(job_with(reading + "gauge = \"the old dial\"\n"));
    EXPECT_DOUBLE_EQ(u_of(proof, "runout"), 0.002);
    EXPECT_FALSE(overdue(proof));
}

TEST(Gauges, WhatIsWrongIsSaid) {
    const auto faults_of = [](const std::string& more) {
        const auto read = job::read_job("units = \"mm\"\n[head]\nname = \"h\"\n" + more, "g.toml", {});
        std::string out;
        if (!read)
            for (const auto& fault : read.error()) out += to_line(fault) + "\n";
        return out;
    };
    EXPECT_NE(faults_of("[[gauge]]\nname = \"a\"\nreads = [\"weight\"]\n").find("gauge[0].reads[0]"),
              std::string::npos);
    EXPECT_NE(faults_of("[[gauge]]\nname = \"a\"\n[[gauge]]\nname = \"a\"\n").find("two entries"),
              std::string::npos);
    EXPECT_NE(faults_of("[[gauge]]\ncalibrated_until = \"soon\"\n").find("calibrated_until"),
              std::string::npos);
    EXPECT_NE(faults_of("[forecast]\ntouches = \"some\"\n").find("forecast.touches"), std::string::npos);
    EXPECT_NE(faults_of("[forecast]\nlevel_sd = -1\n").find("forecast.level_sd"), std::string::npos);
}

}  // namespace
}  // namespace seatwright::prove
