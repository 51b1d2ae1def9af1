// What goes wrong in a shop: each gets one clear line, the right exit status, and leaves nothing half
// written.
#include <gtest/gtest.h>

#include <algorithm>

#include "changed.hpp"
#include "outside/program.hpp"

namespace seatwright::outside {
namespace {

long lines_of(const std::string& text) {
    return std::count(text.begin(), text.end(), '\n');
}

// The smallest job with everything; every fault below is one change of it.
const std::string good = R"(title = "small"
units = "mm"
[head]
name = "invented"
mass = 12
[[head.valve]]
id = "1I"
cylinder = 1
kind = "intake"
x = 0
y = 0
z = -5
incline = 10
cant = 0
[machine]
travel_x = 500
travel_y = 300
travel_z = 200
resolution = 0.001
[fixture]
tilt = ["-30 deg", "50 deg"]
swing = ["0 deg", "0 deg"]
plumb_limit = "0.05 deg"
)";

std::string changed(const std::string& from, const std::string& to) {
    return fixtures::changed(good, from, to);
}

struct Case {
    const char* from;
    const char* to;
    const char* says;  // must stand in the message
    int line;          // of the fault
};

class BadJob : public testing::TestWithParam<Case> {};

TEST_P(BadJob, IsOneLineWithPlaceAndRemedy) {
    const auto& c = GetParam();
    const Scratch scratch;
    const auto job = scratch.write("job.toml", changed(c.from, c.to));
    const auto ran = run("hold " + job.string());
    EXPECT_EQ(ran.status, 2) << ran.err;
    EXPECT_EQ(lines_of(ran.err), 1) << ran.err;
    EXPECT_EQ(ran.err.rfind(job.string() + ":" + std::to_string(c.line) + ": ", 0), 0u) << ran.err;
    EXPECT_NE(ran.err.find(c.says), std::string::npos) << ran.err;
    EXPECT_EQ(ran.out, "");
}

INSTANTIATE_TEST_SUITE_P(Faults, BadJob,
                         testing::Values(Case{"mass = 12", "mass = \"12 mm\"", "kg", 5},
                                         Case{"mass = 12", "mess = 12", "mass", 5},
                                         Case{"mass = 12", "mass = -12", "mass", 5},
                                         Case{"mass = 12", "mass = nan", "mass", 5},
                                         Case{"incline = 10", "incline = 80", "incline", 13},
                                         Case{"kind = \"intake\"", "kind = \"inlet\"", "intake", 9},
                                         Case{"x = 0\n", "x = \"zero\"\n", "x", 10},
                                         Case{"travel_x = 500", "travel_x = true", "travel_x", 16}));

TEST(BadInput, TheGoodJobIsGood) {
    const Scratch scratch;
    const auto job = scratch.write("job.toml", good);
    const auto ran = run("hold " + job.string() + " --json");
    EXPECT_EQ(ran.status, 0) << ran.err;
    EXPECT_EQ(ran.out.substr(0, 1), "{");
}

TEST(BadInput, EveryFaultIsToldAtOnce) {
    const Scratch scratch;
    std::string text = good;
    text.replace(text.find("units = \"mm\"\n"), 13, "");
    text.replace(text.find("mass = 12"), 9, "mass = -12");
    text.replace(text.find("incline = 10"), 12, "inklein = 10");
    const auto ran = run("check " + scratch.write("job.toml", text).string());
    EXPECT_EQ(ran.status, 2);
    EXPECT_GE(lines_of(ran.err), 3) << ran.err;
    for (const char* key : {"units", "mass", "inklein"})
        EXPECT_NE(ran.err.find(key), std::string::npos) << key;
}

TEST(BadInput, AHeadNobodyReadIsAFaultOfHoldToo) {
    const Scratch scratch;
    std::string text = good;
    for (const char* head : {"1", "2"})
        text += std::string("[[reading.level]]\nhead = \"") + head +
                "\"\nvalve = \"1I\"\nfirst = 0.1\nsecond = -0.1\n";
    const auto job = scratch.write("job.toml", text).string();
    for (const std::string head : {"1", "2"})
        EXPECT_NE(run("hold " + job + " --json --head " + head).out.find("\"head\": \"" + head + "\""),
                  std::string::npos)
            << head;
    const auto ran = run("hold " + job + " --head 3");
    EXPECT_EQ(ran.status, 2);
    EXPECT_NE(ran.err.find("heads on record: 1, 2"), std::string::npos) << ran.err;
}

TEST(BadInput, FilesThatAreNoJob) {
    const Scratch scratch;
    EXPECT_EQ(run("hold " + (scratch.path() / "none.toml").string()).status, 2);
    EXPECT_EQ(run("hold " + scratch.path().string()).status, 2);
    EXPECT_EQ(run("hold /dev/zero").status, 2);
    const auto huge = scratch.write("huge.toml", "");
    fs::resize_file(huge, (16u << 20) + 1);
    const auto ran = run("hold " + huge.string());
    EXPECT_EQ(ran.status, 2);
    EXPECT_NE(ran.err.find("16 MiB"), std::string::npos) << ran.err;
    EXPECT_EQ(lines_of(ran.err), 1);
}

TEST(BadInput, AMissingShopFileIsNamedAtItsLine) {
    const Scratch scratch;
    const auto job =
        scratch.write("job.toml", changed("units = \"mm\"\n", "units = \"mm\"\nshop = \"nowhere.toml\"\n"));
    const auto ran = run("check " + job.string());
    EXPECT_EQ(ran.status, 2);
    EXPECT_NE(ran.err.find(":3: shop: "), std::string::npos) << ran.err;
    EXPECT_NE(ran.err.find("nowhere.toml"), std::string::npos) << ran.err;
}

TEST(BadInput, WhatIsMissingIsToldAtTheNearestTable) {
    const Scratch scratch;
    std::string bare = good.substr(0, good.find("[fixture]"));
    auto job = scratch.write("job.toml", bare).string();
    EXPECT_EQ(run("hold " + job).err.rfind(job + ":1: fixture: is missing", 0), 0u);
    const auto shape = run("shape " + job).err;
    for (const char* key : {":1: valve.intake: ", ":1: seat.intake: "})
        EXPECT_NE(shape.find(key), std::string::npos) << shape;
    job = scratch.write("job.toml", good + "[seat.exhaust]\nangle = 45\n").string();
    EXPECT_NE(run("shape " + job).err.find(":24: seat.intake: "), std::string::npos)
        << run("shape " + job).err;
}

TEST(BadInput, ATextThatIsNoTomlSaysSoAtItsLine) {
    const Scratch scratch;
    for (const std::string line : {"x = = 1", "y = \"\xff\"", "z = \"\x01\"", "units = \"mm\""}) {
        const auto job =
            scratch.write("job.toml", "title = \"invented\"\nunits = \"mm\"\n" + line + "\n").string();
        const auto ran = run("check " + job);
        EXPECT_EQ(ran.status, 2);
        EXPECT_EQ(ran.err.rfind(job + ":3: TOML: ", 0), 0u) << ran.err;
    }
}

TEST(BadInput, AShopFileIsNamedByAPathThatOpens) {
    const Scratch scratch;
    fs::create_directory(scratch.path() / "jobs");
    scratch.write("s.toml", "[[machine]]\nname = \"invented\"\ntravel_x = -1\n");
    const auto job =
        scratch.write("jobs/job.toml", changed("units = \"mm\"\n", "units = \"mm\"\nshop = \"../s.toml\"\n"));
    const auto ran = run("check " + job.string());
    EXPECT_EQ(ran.status, 2);
    const std::string file = ran.err.substr(0, ran.err.find(':'));
    EXPECT_EQ(file, (scratch.path() / "jobs" / "../s.toml").string()) << ran.err;
    EXPECT_TRUE(fs::exists(file));
}

TEST(BadInput, WordsOnTheCommandLine) {
    for (const char* words :
         {"", "hold", "fold x.toml", "hold x.toml --units furlong", "plan x.toml --paper a5"}) {
        const auto ran = run(words);
        EXPECT_EQ(ran.status, 2) << words;
        EXPECT_EQ(lines_of(ran.err), 1) << ran.err;
    }
    EXPECT_NE(run("fold x.toml").err.find("'fold' is not a command; there are check, hold"),
              std::string::npos);
    EXPECT_NE(run("").err.find("name a command: check, hold"), std::string::npos);
    EXPECT_EQ(run("--help").status, 0);
    EXPECT_EQ(run("--version").status, 0);
}

TEST(BadInput, AFileWhereTheFolderShouldBe) {
    const Scratch scratch;
    const auto file = scratch.write("papers", "keep me");
    const auto ran = run("plan " + wedge + " --out " + file.string());
    EXPECT_EQ(ran.status, 2);
    EXPECT_EQ(lines_of(ran.err), 1) << ran.err;
    EXPECT_EQ(slurp(file), "keep me");
    EXPECT_EQ(run("plan " + wedge + " --out /proc/nowhere/papers").status, 2);
}

TEST(BadInput, AFullDiskLeavesNothingBehind) {
    // A limit on file size stands in for the full disk: the write fails in the same place.
    const Scratch scratch;
    const auto folder = scratch.path() / "deep" / "papers";
    const auto ran = run("plan " + wedge + " --out " + folder.string(), "trap \"\" XFSZ; ulimit -f 4;");
    EXPECT_EQ(ran.status, 2) << ran.err;
    EXPECT_EQ(lines_of(ran.err), 1) << ran.err;
    EXPECT_FALSE(fs::exists(scratch.path() / "deep"));
}

TEST(BadInput, AnExistingFolderKeepsItsFilesWhenWritingFails) {
    const Scratch scratch;
    scratch.write("plan.json", "the old plan");
    scratch.write("notes.txt", "mine");
    const auto ran =
        run("plan " + wedge + " --out " + scratch.path().string(), "trap \"\" XFSZ; ulimit -f 4;");
    EXPECT_EQ(ran.status, 2);
    EXPECT_EQ(slurp(scratch.path() / "plan.json"), "the old plan");
    EXPECT_EQ(std::distance(fs::directory_iterator(scratch.path()), {}), 2);
}

TEST(BadInput, StandardOutputThatTakesNothing) {
    EXPECT_EQ(run("hold " + wedge + " --json >/dev/full").status, 2);
    EXPECT_EQ(run("hold " + wedge + " --json >&-").status, 2);
}

}  // namespace
}  // namespace seatwright::outside
