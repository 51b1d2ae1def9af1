// What cut hands out: JSON with the contract's keys and units, the map as CSV, the typed table, the drawings.
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <sstream>

#include "../cut/shaped.hpp"
#include "seatwright/papers/drawings/draw_chatter.hpp"
#include "seatwright/papers/drawings/draw_path.hpp"
#include "seatwright/report/head_time.hpp"
#include "seatwright/report/map_csv.hpp"
#include "seatwright/report/report.hpp"
#include "seatwright/report/typed.hpp"

namespace seatwright::papers {
namespace {

using namespace report;

fixtures::Shaped priced() {
    auto job = fixtures::wedge_job();
    job.rates = job::Rates{"crowns", 60, 14, 18, 40};
    return fixtures::shaped(job);
}

TEST(CutPapers, JsonHasTheKeysAndUnitsPromised) {
    const auto s = priced();
    const auto cut = s.plan();
    const auto json = json_of(s.job, cut);
    ASSERT_EQ(json["seats"].size(), 8u);
    for (const char* key : {"id", "rpm", "feed_mm_per_turn", "surface_m_per_min", "chip_mm", "torque_nm",
                            "power_w", "thrust_n", "dwell_turns", "stable_width_mm", "seconds"})
        EXPECT_TRUE(json["seats"][0].contains(key)) << key;
    EXPECT_NEAR(json["seats"][0]["torque_nm"].get<double>() * 1000, cut.seats[0].torque, 1e-9);
    EXPECT_EQ(json["order"].size(), 8u);
    EXPECT_TRUE(json["seconds_head"].is_number());
    ASSERT_EQ(json["programs"].size(), 2u);
    const auto& program = json["programs"][0];
    EXPECT_EQ(program["file"], "program-1-A-1-first.ngc");
    EXPECT_EQ(program["head"], "1");
    EXPECT_EQ(program["setup"], "A");
    EXPECT_EQ(program["cutter"], 1);
    EXPECT_EQ(program["first"], true);
    EXPECT_EQ(program["checked"], true);
    ASSERT_EQ(program["seats"].size(), 1u);
    EXPECT_EQ(program["zero"]["what"], "old seat");
    for (const char* key : {"valve", "x_mm", "y_mm", "z_mm", "kappa_mm", "trim_mm", "u_mm", "words"})
        EXPECT_TRUE(program["zero"].contains(key)) << key;
    EXPECT_TRUE(json["held_back"].empty());
    EXPECT_EQ(json["seats"][0]["pilot"], "8.73");
    EXPECT_GT(json["calm_rpm"].size(), 0u);
    double sum = 0;
    for (const auto& line : json["estimate"]["lines"]) {
        EXPECT_NEAR(line["count"].get<double>() * line["rate"].get<double>(), line["amount"].get<double>(),
                    1e-9);
        sum += line["amount"].get<double>();
    }
    EXPECT_NEAR(json["estimate"]["head"].get<double>(), sum, 1e-9);
    EXPECT_NEAR(sum, 60 + 8 * 14, 1e-9);
    auto bare = s;
    bare.job.rates.reset();
    bare.job.machine.mode.reset();
    const auto without = json_of(bare.job, bare.plan());
    EXPECT_TRUE(without["estimate"].is_null());
    EXPECT_TRUE(without["seats"][0]["stable_width_mm"].is_null());
}

// What is not in the price goes by the head that is priced: a guide read on another head is not measured
// here.
TEST(CutPapers, AnEstimateCountsTheGuidesOfItsOwnHead) {
    auto s = priced();
    const auto unread = [&] { return json_of(s.job, s.plan())["estimate"]["not_included"][0]; };
    const auto read = [&](const std::string& head, std::size_t valve) {
        const double bore = 8.74;  // a little above the drawing's
        s.job.readings.guides.push_back({.head = head,
                                         .valve = s.job.head.valves[valve].id,
                                         .top = bore,
                                         .middle = bore,
                                         .bottom = bore});
    };
    s.job.readings.guides = {};
    EXPECT_EQ(unread(), "8 guides not yet measured");
    read("another", 0);
    EXPECT_EQ(unread(), "8 guides not yet measured");
    for (std::size_t valve = 0; valve < 7; ++valve) read(s.shape.head, valve);
    EXPECT_EQ(unread(), "1 guide not yet measured");
    read(s.shape.head, 7);
    EXPECT_EQ(unread(), "cracks found by pressure test or penetrant");
}

TEST(CutPapers, TheMapAsCsvHasARowAValveAndBothUnitsForAnInchJob) {
    auto s = priced();
    const auto rows_of = [](const std::string& csv) {
        std::vector<std::vector<std::string>> rows;
        std::istringstream in(csv);
        for (std::string line; std::getline(in, line);) {
            rows.emplace_back();
            std::istringstream cells(line + ",");
            for (std::string cell; std::getline(cells, cell, ',');) rows.back().push_back(cell);
        }
        return rows;
    };
    const auto mm = rows_of(map_csv(s.job, s.hold.setups[0], s.plan()));
    ASSERT_EQ(mm.size(), 9u);
    EXPECT_EQ(mm[0].size(), 17u);
    for (std::size_t i = 1; i < mm.size(); ++i) {
        EXPECT_EQ(mm[i].size(), mm[0].size());
        EXPECT_NEAR(std::stod(mm[i][3]), s.hold.setups[0].valves[i - 1].readout.x(), 5e-5);
        EXPECT_EQ(mm[i][9], "map");
        EXPECT_EQ(mm[i][15], "1");  // the head; then its plan's mark
    }
    // As the control shows it: the Z that the program has.
    s.job.machine.z_sign = -1;
    const auto down = rows_of(map_csv(s.job, s.hold.setups[0], s.plan()));
    for (std::size_t i = 1; i < mm.size(); ++i) {
        EXPECT_NE(std::stod(mm[i][8]), 0);
        EXPECT_EQ(std::stod(down[i][8]), -std::stod(mm[i][8]));
        EXPECT_EQ(down[i][3], mm[i][3]);
    }
    EXPECT_NE(text_of(s.job, s.plan(), {}).find("clear height Z -"), std::string::npos);
    s.job.machine.z_sign = 1;
    s.job.units = LengthUnit::inch;
    const auto inch = rows_of(map_csv(s.job, s.hold.setups[0], s.plan()));
    EXPECT_EQ(inch[0].size(), 23u);
    EXPECT_NEAR(std::stod(inch[2][15]) * mm_per_inch, std::stod(inch[2][3]), 1e-4);
}

TEST(CutPapers, TheTextHoldsEverySeatAndTheTypedTable) {
    const auto s = priced();
    const std::string text = text_of(s.job, s.plan(), {});
    for (const auto& valve : s.job.head.valves) EXPECT_NE(text.find(valve.id), std::string::npos);
    for (const char* words : {"read back and found right", "clear height", "dwell", "crowns", "not included"})
        EXPECT_NE(text.find(words), std::string::npos) << words;
}

// The minutes of a head are of all its seats; those of a row are of the seats it counts.
TEST(CutPapers, TheTimesOfTheTextAreOfTheSeatsTheyCount) {
    const auto s = priced();
    auto cut = s.plan();
    EXPECT_EQ(text_of(s.job, cut, {}).find("in no file"), std::string::npos);
    const HeadTime all = head_time(cut);
    EXPECT_EQ(all.in_files, 8u);
    EXPECT_NEAR(all.in_files_seconds, cut.times.seats, 1e-9);
    cut.order.resize(6);
    const HeadTime some = head_time(cut);
    EXPECT_EQ(some.in_files, 6u);
    EXPECT_EQ(some.in_no_file, 2u);
    EXPECT_LT(some.in_files_seconds, cut.times.seats);
    EXPECT_NEAR(some.in_files_seconds + some.in_no_file_seconds, cut.times.seats, 1e-9);
    const std::string text = text_of(s.job, cut, {});
    EXPECT_NE(text.find("6 seats "), std::string::npos) << text;
    EXPECT_NE(text.find("2 seats in no file"), std::string::npos) << text;
}

// Of many calm speeds those about the speed that the job runs at.
TEST(CutPapers, TheCalmSpeedsShownLieAboutTheSpeedChosen) {
    const auto s = priced();
    auto cut = s.plan();
    ASSERT_FALSE(cut.charts.empty());
    cut.charts.resize(1);
    cut.charts.front().slowest = 100;
    cut.charts.front().fastest = 400;
    cut.charts.front().rpm = 204;
    cut.calm_rpm.clear();
    for (double rpm = 450; rpm >= 50; rpm -= 10) cut.calm_rpm.push_back(rpm);
    EXPECT_NE(text_of(s.job, cut, {})
                  .find("calm speeds about those chosen, rpm:  180.0  190.0  200.0  210.0  220.0  "
                        "230.0; 25 more in the range"),
              std::string::npos)
        << text_of(s.job, cut, {});
}

// Typed at a readout that steps by 0.005: never deeper than planned, whichever way it counts.
TEST(CutPapers, AZThatIsTypedIsOnAStepOfTheReadout) {
    job::Machine machine;
    machine.resolution = 0.005;
    EXPECT_EQ(typed_z(machine, -0.1723), -0.1723) << "a file says it as it is";
    machine.runs = job::Runs::hand;
    EXPECT_NEAR(typed_z(machine, -0.1723), -0.170, 1e-12);
    EXPECT_NEAR(typed_z(machine, 15.1012), 15.105, 1e-12);
    EXPECT_NEAR(typed_z(machine, 15.105), 15.105, 1e-12);
    machine.z_sign = -1;
    EXPECT_NEAR(typed_z(machine, 0.1723), 0.170, 1e-12);
    EXPECT_NEAR(typed_z(machine, -15.1012), -15.105, 1e-12);
}

TEST(CutPapers, DrawingsNameTheirSeatsAndSpeeds) {
    const auto s = priced();
    const auto cut = s.plan();
    const std::string path =
        draw_path(s.job, "A", cut::whole_setup(cut.routes, 0), LengthUnit::inch).document();
    for (const auto& valve : s.job.head.valves) EXPECT_NE(path.find(">" + valve.id + "<"), std::string::npos);
    EXPECT_NE(path.find("clear height"), std::string::npos);
    ASSERT_EQ(cut.charts.size(), 2u);
    ASSERT_FALSE(cut.calm_rpm.empty());
    const std::string drawn = draw_chatter(cut.charts, cut.calm_rpm, LengthUnit::mm).document();
    for (const auto& chart : cut.charts) EXPECT_NE(drawn.find(">" + chart.what + ": "), std::string::npos);
    EXPECT_NE(drawn.find("calm speeds"), std::string::npos);
    EXPECT_EQ(drawn.find("nan"), std::string::npos);
    EXPECT_EQ(drawn.find("inf"), std::string::npos);
}

}  // namespace
}  // namespace seatwright::papers
