// What a shop's list entries may hold, and what a job may not: words of the float, the least approach, heads
// that a file name cannot tell apart, dates of readings. Invented data.
#include <gtest/gtest.h>

#include "seatwright/job/reader.hpp"
#include "seatwright/job/writer.hpp"

namespace seatwright::job {
namespace {

constexpr const char* small_job =
    "units = \"mm\"\nshop = \"shop.toml\"\n[head]\n[[head.valve]]\nid = \"1I\"\nkind = \"intake\"\nx = 0\n";

Checked<Job> read(const std::string& tables, const std::string& shop) {
    return read_job(small_job + tables, "j.toml",
                    [&](const std::string&) -> tl::expected<std::string, std::string> { return shop; });
}

std::string faults(const Checked<Job>& job) {
    std::string out;
    if (!job)
        for (const Fault& fault : job.error()) out += to_line(fault) + "\n";
    return out;
}

TEST(ShopWords, AFloatOfAListedMachineMayBeAWord) {
    for (const auto& [word, kind] :
         {std::pair{"none", Float::Kind::none}, std::pair{"soft", Float::Kind::soft}}) {
        const auto job = read("", std::string("[[machine]]\nname = \"m\"\nfloat = \"") + word + "\"\n");
        ASSERT_TRUE(job) << faults(job);
        ASSERT_TRUE(job->machine.tool_float);
        EXPECT_EQ(job->machine.tool_float->kind, kind);
    }
    const auto other = read("", "[[machine]]\nname = \"m\"\nfloat = \"loose\"\n");
    ASSERT_FALSE(other);
    EXPECT_NE(faults(other).find("machine.float"), std::string::npos);
    EXPECT_NE(faults(other).find("wanted: \"none\", \"soft\" or a table"), std::string::npos)
        << faults(other);
    EXPECT_FALSE(read("", "machine = \"m\"\n")) << "a shop names no machine, it has them";
}

TEST(ShopWords, WhatALeadLetsPassIsKnown) {
    const auto with = [](const std::string& what) {
        return read("[[allow]]\nwhat = \"" + what + "\"\nwhy = \"seen\"\nby = \"lead\"\n", "");
    };
    for (const char* what : {"guide 1I", "below finish 1I", "plumb 1I", "trim 1I", "width intake"})
        EXPECT_TRUE(with(what)) << what << faults(with(what));
    for (const char* what : {"width 1I", "guide 9I", "guide", "1I", "below finish", ""}) {
        const auto refused = with(what);
        ASSERT_FALSE(refused) << what;
        EXPECT_NE(faults(refused).find("allow"), std::string::npos) << faults(refused);
        EXPECT_NE(faults(refused).find("width intake"), std::string::npos) << faults(refused);
    }
}

TEST(ShopWords, AnApproachIsAtLeastAMillimetre) {
    const auto shallow = read("[cut]\napproach = 0.4\n", "");
    ASSERT_FALSE(shallow);
    EXPECT_NE(faults(shallow).find("cut.approach"), std::string::npos);
    EXPECT_NE(faults(shallow).find("1 mm"), std::string::npos) << faults(shallow);
    EXPECT_TRUE(read("[cut]\napproach = 1\n", ""));
}

std::string touched(const std::string& head) {
    return "[[reading.touch]]\nhead = \"" + head + "\"\nvalve = \"1I\"\nx = 0\ny = 0\n";
}

TEST(ShopWords, HeadsThatFileNamesCannotTellApartAreAFault) {
    for (const auto* other : {"6-1", "6.1", "6 1"}) {
        const auto job = read(touched("6/1") + touched(other), "");
        ASSERT_FALSE(job) << other;
        EXPECT_NE(faults(job).find("\"6/1\""), std::string::npos) << faults(job);
        EXPECT_NE(faults(job).find("reading.touch[1].head"), std::string::npos) << faults(job);
    }
    EXPECT_FALSE(read(touched("a") + touched("A"), ""));
    EXPECT_TRUE(read(touched("6/1") + touched("6/2") + touched("6/1"), ""));
}

TEST(ShopWords, EveryReadingMayCarryItsDate) {
    const std::string date = "date = \"2026-02-23\"\n";
    const std::string who = "valve = \"1I\"\n";
    const std::string tables = "[[reading.touch]]\nx = 0\ny = 0\n" + who + date +
                               "[[reading.level]]\nacross = \"cant\"\nfirst = 0\n" + who + date +
                               "[[reading.guide]]\ntop = 8\nmiddle = 8\nbottom = 8\n" + who + date +
                               "[[reading.seat]]\ncleanup = 0.1\n" + who + date +
                               "[[reading.first]]\ndepth = 0.1\n" + who + date +
                               "[[reading.proof]]\nrunout = 0.01\n" + who + date;
    const auto job = read(tables, "");
    ASSERT_TRUE(job) << faults(job);
    const auto dated = [&](const auto& readings) {
        ASSERT_EQ(readings.size(), 1u);
        EXPECT_EQ(readings[0].date, "2026-02-23");
        EXPECT_NE(to_toml(readings[0], LengthUnit::mm).find("date = \"2026-02-23\""), std::string::npos);
    };
    dated(job->readings.touches);
    dated(job->readings.levels);
    dated(job->readings.guides);
    dated(job->readings.seats);
    dated(job->readings.firsts);
    dated(job->readings.proofs);
}

}  // namespace
}  // namespace seatwright::job
