// What the memory of the stages may leave out of its keys, and that answers from memory are those computed
// anew.
#include <gtest/gtest.h>

#include <algorithm>
#include <fstream>
#include <sstream>

#include "../../bench/server_job.hpp"
#include "places.hpp"
#include "seatwright/report/report.hpp"
#include "stage_memory.hpp"

namespace seatwright::server {
namespace {

std::string text_of(const std::string& file) {
    std::ifstream in(std::string(places::root) + "/" + file);
    std::stringstream text;
    text << in.rdbuf();
    return text.str();
}

std::vector<std::string> job_files() {
    return {"examples/wedge/job.toml", "examples/canted/job.toml", "examples/pent-roof/job.toml",
            "bench/thirty_two_valves.toml"};
}

// Hold and find as JSON, and all up to cut.
std::pair<std::string, std::string> results_of(const job::Job& job) {
    const auto plan = plan::make_plan(job);
    plan::Plan upto;
    upto.given = plan.given;
    upto.hold = plan.hold;
    upto.find = plan.find;
    const std::string find = report::json_of(job, plan.hold).dump() + report::json_of(job, plan.find).dump() +
                             report::json_frame(job, upto.notices()).dump();
    return {find, report::json_of(job, plan.shape).dump() + report::json_of(job, plan.cut).dump() +
                      report::json_frame(job, plan.notices()).dump()};
}

TEST(StageMemory, NoStageReadsWhatItsKeyLeavesOut) {
    for (const auto& file : job_files()) {
        auto read = read_with_shop(text_of(file), default_shop());
        ASSERT_TRUE(read) << file;
        const std::string head = read->heads().front();
        const auto whole = results_of(*read);
        read->seat = {};
        read->depth = {};
        read->readings.seats.clear();
        read->readings.proofs.clear();
        ASSERT_EQ(read->heads().front(), head) << "the key holds the first head";
        EXPECT_TRUE(results_of(*read).first == whole.first) << file << " without seats";
    }
}

TEST(StageMemory, TheKeysFollowEverythingElse) {
    const std::string text =
        text_of("bench/thirty_two_valves.toml") + "\n[[reading.proof]]\nvalve = \"1Ia\"\nrunout = 0.01\n";
    const auto keys = [&](const std::string& whole, const std::string& shop = default_shop()) {
        const auto job = read_with_shop(whole, default_shop());
        EXPECT_TRUE(job);
        return stage_keys(whole, shop, *job);
    };
    const StageKeys same = keys(text);
    const auto changed = [&](const std::string& from, const std::string& to) {
        std::string other = text;
        const auto at = other.find(from);
        EXPECT_NE(at, std::string::npos) << from;
        const StageKeys now = keys(other.replace(at, from.size(), to));
        return std::string(now.find == same.find ? "" : "find ") + (now.cut == same.cut ? "" : "cut");
    };
    EXPECT_EQ(changed("runout = 0.01", "runout = 0.02"), "cut") << "a seat that was measured counts as cut";
    EXPECT_EQ(changed("valve = \"1Ia\"\nrunout", "head = \"9\"\nvalve = \"1Ia\"\nrunout"), "cut")
        << "one head more";
    EXPECT_EQ(changed("cleanup = 0.105", "cleanup = 0.106"), "cut");
    EXPECT_EQ(changed("inset = 0.4", "inset = 0.5"), "cut");
    EXPECT_EQ(changed("step = 0.01", "step = 0.02"), "cut");
    EXPECT_EQ(changed("touch_sd = 0.02", "touch_sd = 0.03"), "find cut");
    EXPECT_EQ(changed("mouth = 6.8", "mouth = 6.9"), "find cut");
    EXPECT_EQ(changed("x = 0.020", "x = 0.021"), "find cut");
    EXPECT_EQ(changed("post_diameter = 11", "post_diameter = 10"), "find cut");
    EXPECT_EQ(changed("title = \"", "title = \"another "), "find cut");
    EXPECT_NE(keys(text, default_shop() + "#").find, same.find);
    EXPECT_NE(keys(text, default_shop() + "#").cut, same.cut);
}

// Entries of every kind, one after the other: each state against the exported file computed from nothing.
TEST(StageMemory, EveryStateIsWhatItsExportGives) {
    TestShop shop;
    const long long job = job_of_32(shop, places::root);
    ASSERT_GT(job, 0);
    for (int n = 0; n < 13; ++n) {
        Json entry = entry_of_shift(n);
        if (n % 5 == 4) {
            entry["kind"] = "touch";
            entry["values"] = {{"x", 100.0 + n}, {"y", 0.01 * n}};
        }
        ASSERT_EQ(shop.pat->post(path_of(job, "/entries"), entry).status, 201);
        if (n == 7) {
            const Json edit = {{"version", 1}, {"edits", {{{"key", "seat.intake.width"}, {"value", 1.25}}}}};
            ASSERT_EQ(shop.pat->post(path_of(job, "/edits"), edit).status, 200);
        }
        const auto state = shop.pat->get(path_of(job, "/state")).json()["results"];
        const auto read = read_with_shop(shop.pat->get(path_of(job, "/export")).text, default_shop());
        ASSERT_TRUE(read);
        Computation anew(*read, "");
        for (const auto stage :
             {job::Stage::hold, job::Stage::find, job::Stage::shape, job::Stage::cut, job::Stage::prove})
            EXPECT_TRUE(state[std::string(job::name_of(stage))] == Json::parse(anew.json(stage)))
                << job::name_of(stage) << " after entry " << n;
    }
}

}  // namespace
}  // namespace seatwright::server
