// What find's memory may leave out of its key, and that answers from memory are those computed anew.
#include <gtest/gtest.h>

#include <fstream>
#include <sstream>

#include "../../bench/server_job.hpp"
#include "find_memory.hpp"
#include "seatwright/papers/report.hpp"

namespace seatwright::server {
namespace {

std::string text_of(const std::string& file) {
    std::ifstream in(std::string(SEATWRIGHT_ROOT) + "/" + file);
    std::stringstream text;
    text << in.rdbuf();
    return text.str();
}

std::vector<std::string> job_files() {
    return {"examples/wedge/job.toml", "examples/canted/job.toml", "examples/pent-roof/job.toml",
            "bench/thirty_two_valves.toml"};
}

std::string find_of(const job::Job& job) {
    const auto hold = hold::plan(job);
    const auto find = find::locate(job, hold);
    return papers::json_of(job, hold).dump() + papers::json_of(job, find).dump() +
           papers::json_frame(job, find).dump();
}

TEST(FindMemory, FindDoesNotReadWhatTheKeyLeavesOut) {
    for (const auto& file : job_files()) {
        auto read = read_with_shop(text_of(file), default_shop());
        ASSERT_TRUE(read) << file;
        const std::string whole = find_of(*read);
        read->seat = {};
        read->depth = {};
        const std::string head = read->heads().front();
        read->readings.seats.clear();
        read->readings.proofs.clear();
        ASSERT_EQ(read->heads().front(), head) << "the key holds the first head";
        EXPECT_EQ(find_of(*read), whole) << file;
    }
}

TEST(FindMemory, TheKeyFollowsEverythingElse) {
    const std::string text = text_of("bench/thirty_two_valves.toml"), shop = default_shop();
    const auto key = [&](const std::string& from, const std::string& to) {
        std::string changed = text;
        const auto at = changed.find(from);
        EXPECT_NE(at, std::string::npos) << from;
        return find_key(changed.replace(at, from.size(), to), shop, "1");
    };
    const std::string same = find_key(text, shop, "1");
    EXPECT_EQ(key("cleanup = 0.105", "cleanup = 0.106"), same);
    EXPECT_EQ(key("inset = 0.4", "inset = 0.5"), same);
    EXPECT_EQ(key("step = 0.01", "step = 0.02"), same);
    EXPECT_NE(key("touch_sd = 0.02", "touch_sd = 0.03"), same);
    EXPECT_NE(key("mouth = 6.8", "mouth = 6.9"), same);
    EXPECT_NE(key("x = 0.020", "x = 0.021"), same);
    EXPECT_NE(key("post_diameter = 11", "post_diameter = 10"), same);
    EXPECT_NE(key("[seat.intake]", "[valve.other]"), same);
    EXPECT_NE(find_key(text, shop + "#", "1"), same);
    EXPECT_NE(find_key(text, shop, "2"), same);
}

// Entries of every kind, one after the other: each state against the exported file computed from nothing.
TEST(FindMemory, EveryStateIsWhatItsExportGives) {
    TestShop shop;
    const long long job = job_of_32(shop);
    ASSERT_GT(job, 0);
    for (int n = 0; n < 12; ++n) {
        Json entry = entry_of_shift(n);
        if (n % 4 == 3) {
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
        for (const auto stage : {job::Stage::hold, job::Stage::find, job::Stage::shape, job::Stage::cut})
            EXPECT_EQ(state[std::string(job::name_of(stage))], Json::parse(anew.json(stage)))
                << job::name_of(stage) << " after entry " << n;
    }
}

}  // namespace
}  // namespace seatwright::server
