// find's JSON keys, its terminal text and its drawing.
#include <gtest/gtest.h>

#include <fstream>
#include <nlohmann/json.hpp>

#include "../find/find_fixtures.hpp"
#include "seatwright/papers/drawings/draw_find.hpp"
#include "seatwright/report/report.hpp"

namespace seatwright::papers {
namespace {

using namespace report;

struct Made {
    job::Job job;
    find::Find find;
};

Made made_head() {
    std::mt19937_64 random(10);
    const job::Job job = fixtures::wedge_job();
    const hold::Hold hold = fixtures::hold_of(job, rad(19.5));
    Made made{fixtures::simulate(job, hold, {0, 2, 4, 6, 7}, rad(0.05), {0.3, -0.2}, random).job, {}};
    made.job.readings.touches[2].at += Vec2(1.6, -1.2);
    made.job.readings.guides.push_back({"1", "1I", 8.745, 8.735, 8.736, 0});
    made.find = find::locate(made.job, hold);
    return made;
}

TEST(FindPapers, JsonHasTheKeysOfTheContract) {
    const Made made = made_head();
    const auto json = json_of(made.job, made.find);
    const auto& setup = json["heads"][0]["setups"][0];
    for (const char* key : {"id", "yaw_deg", "yaw_sd_deg", "offset_mm", "chi2", "dof", "p_value", "pattern",
                            "guides", "square", "least_enter_probability", "next_touch", "touches_to_target"})
        EXPECT_TRUE(setup.contains(key)) << key;
    for (const char* key : {"id", "x_mm", "y_mm", "sd_x_mm", "sd_y_mm", "corr", "program_x_mm",
                            "program_y_mm", "enter_probability", "touched", "suspect", "innovation2"})
        EXPECT_TRUE(setup["guides"][0].contains(key)) << key;
    for (const char* key : {"valve", "pilot", "play_mm", "guide", "reason"})
        EXPECT_TRUE(json["pilots"][0].contains(key)) << key;
    EXPECT_EQ(json["pilots"].size(), 8U);
    EXPECT_EQ(setup["pattern"], "as declared");
    EXPECT_EQ(setup["guides"][4]["suspect"], true);
    EXPECT_NEAR(setup["yaw_deg"].get<double>(), deg(made.find.heads[0].setups[0].yaw), 1e-12);
    EXPECT_TRUE(json["blind_run"].is_null());
}

TEST(FindPapers, TextSaysWhatToDo) {
    const Made made = made_head();
    const std::string text = text_of(made.job, made.find, {});
    for (const char* words : {"suspect, set aside", "touched", "Pilots", "least chance of entering"})
        EXPECT_NE(text.find(words), std::string::npos) << words << "\n" << text;
}

TEST(FindPapers, DrawingShowsEveryGuideAndStatesItsScale) {
    const Made made = made_head();
    const std::string svg = draw_find(made.job, made.find.heads[0].setups[0]).document();
    for (const auto& valve : made.job.head.valves)
        EXPECT_NE(svg.find(">" + valve.id + "<"), std::string::npos);
    EXPECT_NE(svg.find("95 % ellipses"), std::string::npos);
    EXPECT_NE(svg.find("suspect"), std::string::npos);
    if (const char* out = std::getenv("SEATWRIGHT_SHOW")) std::ofstream(out) << svg;
}

}  // namespace
}  // namespace seatwright::papers
