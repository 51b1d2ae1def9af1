// Answers from the cache are those computed anew, and a stage that fails takes none of the others with it.
#include <gtest/gtest.h>

#include "../../bench/server_job.hpp"
#include "places.hpp"
#include "seatwright/toml/document.hpp"
#include "server/answers/job_state.hpp"

namespace seatwright::server {
namespace {

using job::Stage;
constexpr std::array all_stages{Stage::hold, Stage::find, Stage::shape, Stage::cut, Stage::prove};

// Entries of every kind, one after the other: each state against the exported file computed from nothing.
TEST(StageCache, EveryStateIsWhatItsExportGives) {
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
        for (const Stage stage : all_stages)
            EXPECT_TRUE(state[std::string(job::name_of(stage))] ==
                        Json::parse(anew.page_json(stage, read->units)))
                << job::name_of(stage) << " after entry " << n;
    }
}

TEST(StageCache, ASeatMeasuredAfterCuttingCountsAsCutAtOnce) {
    TestShop shop;
    const long long job = shop.job();
    const auto before = shop.pat->get(path_of(job, "/results/cut")).json();
    const Json entry{
        {"client_key", "measured-after"}, {"head", "6"}, {"valve", "2E"}, {"kind", "proof"}, {"units", "in"},
        {"values", {{"runout", 0.0005}}}};
    ASSERT_EQ(shop.pat->post(path_of(job, "/entries"), entry).status, 201);
    const auto after = shop.pat->get(path_of(job, "/results/cut")).json();
    EXPECT_NE(after["programs"], before["programs"]);
    const auto read = read_with_shop(shop.pat->get(path_of(job, "/export")).text, default_shop());
    ASSERT_TRUE(read);
    EXPECT_EQ(after, Json::parse(Computation(*read, "").json(Stage::cut)));
}

// From the entry as sent to every result of the new state.
TEST(StageCache, NoTextIsReadForAnEntry) {
    TestShop shop;
    const long long job = job_of_32(shop, places::root);
    shop.pat->get(path_of(job, "/state"));
    for (int n = 0; n < 6; ++n) {
        const std::size_t before = toml::Document::parsed_so_far();
        ASSERT_EQ(shop.pat->post(path_of(job, "/entries"), entry_of_shift(n)).status, 201);
        ASSERT_EQ(shop.pat->get(path_of(job, "/state")).status, 200);
        EXPECT_EQ(toml::Document::parsed_so_far() - before, 0u) << n;
    }
}

// The document changes its unit; what was measured stays what it is.
TEST(StageCache, AnEntryKeepsItsUnitBesideAnotherDocument) {
    TestShop shop;
    const long long job = shop.job();
    const Json entry{{"client_key", "measured-in-inches"},
                     {"head", "6"},
                     {"valve", "2E"},
                     {"kind", "proof"},
                     {"units", "in"},
                     {"values", {{"runout", 0.0005}}}};
    ASSERT_EQ(shop.pat->post(path_of(job, "/entries"), entry).status, 201);
    const Json question{{"edits", {{{"key", "units"}, {"value", "mm"}}}}, {"results", {"prove"}}};
    const std::string tried = shop.pat->post(path_of(job, "/whatif"), question).text;
    EXPECT_NE(tried.find("head 6: runout 0.0127 mm"), std::string::npos) << tried.substr(0, 2000);
}

TEST(FailedStage, LeavesTheOthersOnThePage) {
    const auto read = read_with_shop(example_named("wedge")->text, default_shop());
    ASSERT_TRUE(read);
    Computation right(*read, "");
    plan::Steps steps = plan::the_steps();
    steps[static_cast<std::size_t>(plan::Step::cut)].work = [](const plan::Given&) -> plan::Result {
        throw std::bad_alloc();
    };
    StageCache cache;
    Computation computation(*read, "", &cache, {}, steps);
    const auto warnings = computation.notices().warnings;
    EXPECT_TRUE(computation.failed());
    EXPECT_TRUE(std::any_of(warnings.begin(), warnings.end(), [](const Warning& warning) {
        return warning.stage == "cut" && warning.code == "program-error" &&
               warning.severity == Severity::blocking;
    }));
    for (const Stage stage : {Stage::hold, Stage::find, Stage::prove})
        EXPECT_EQ(computation.json(stage), right.json(stage)) << job::name_of(stage);
    EXPECT_TRUE(computation.needs(Stage::shape).empty());
    try {
        computation.cut();
        ADD_FAILURE() << "there is no cut";
    } catch (const HttpError& stopped) {
        EXPECT_EQ(stopped.status, 422);
        EXPECT_EQ(stopped.body["error"], "an error of the program itself stopped cut");
    }
    const auto line = computation.lines(LengthUnit::mm).at(3);
    EXPECT_EQ(line.state, report::StageState::needs_you);
    EXPECT_NE(line.next.find("stopped cut"), std::string::npos);
}

}  // namespace
}  // namespace seatwright::server
