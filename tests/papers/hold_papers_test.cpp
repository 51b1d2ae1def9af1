// The hold stage's papers: JSON by the contract's keys, text, drawings, and the setup sheet page by page.
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <regex>
#include <sstream>

#include "job_fixtures.hpp"
#include "seatwright/papers/drawings/draw_head.hpp"
#include "seatwright/papers/drawings/draw_hold.hpp"
#include "seatwright/papers/page/lettering.hpp"
#include "seatwright/papers/page/scale.hpp"
#include "seatwright/papers/sheet/sheet.hpp"
#include "seatwright/papers/sheet/sheet_words.hpp"
#include "seatwright/report/report.hpp"
#include "spoken.hpp"

namespace seatwright::papers {
namespace {

using namespace report;

job::Level level_reading(const std::string& valve, double first_deg, double second_deg) {
    job::Level r;
    r.valve = valve;
    r.first = rad(first_deg);
    r.second = rad(second_deg);
    return r;
}

TEST(HoldJson, KeysAndUnitsOfTheContract) {
    auto job = fixtures::wedge_job(4, 112, 19.5);
    job.machine.y_sign = -1;
    job.head.valves[3].seat.y() += 10;
    job.readings.levels = {level_reading("1I", 0.1, -0.06)};
    const auto json = json_of(job, hold::plan(job));
    const auto& setup = json["setups"][0];
    EXPECT_EQ(setup["id"], "A");
    EXPECT_EQ(setup["datum"], "1E");
    EXPECT_NEAR(setup["tilt_deg"], 19.5, 1e-11);
    EXPECT_EQ(setup["swing_deg"], 0.0);
    EXPECT_NEAR(setup["worst_plumb_deg"], 0, 1e-11);
    EXPECT_NEAR(setup["travel_margin_mm"]["x"], 900 - 380, 1e-9);
    const auto& valve = setup["valves"][3];
    for (const char* key : {"id", "plumb_deg", "reachable", "x_mm", "y_mm", "z_mm"})
        EXPECT_TRUE(valve.contains(key)) << key;
    // 10 mm along Y on a deck tilted 19.5 deg, the readout's Y counting the other way.
    EXPECT_NEAR(valve["y_mm"], -10 * std::cos(rad(19.5)), 1e-9);
    EXPECT_NEAR(valve["z_mm"], 10 * std::sin(rad(19.5)), 1e-9);
    const auto& safety = setup["safety"];
    EXPECT_EQ(safety["mass_kg"], 21.0);
    EXPECT_NEAR(safety["slope_deg"], 19.5, 1e-11);
    EXPECT_TRUE(safety["slides_when_released"].get<bool>());
    EXPECT_NEAR(safety["slip_factor"], 2 * 0.15 * 6000 / (21 * 9.80665 * std::sin(rad(19.5))), 1e-9);
    for (const char* key : {"a_mm", "b_mm", "span_mm", "position_sd_mm", "yaw_sd_deg"})
        EXPECT_TRUE(json["posts"].contains(key)) << key;
    for (const char* key : {"name", "fits", "why"}) EXPECT_TRUE(json["fixtures"][0].contains(key)) << key;
    const auto& level = json["level"];
    EXPECT_NEAR(level["incline_deg"], 0.08, 1e-12);
    EXPECT_NEAR(level["incline_bias_deg"], 0.02, 1e-12);
    EXPECT_NEAR(level["correction_tilt_deg"], -0.08, 1e-12);
    EXPECT_TRUE(level["cant_deg"].is_null());
    EXPECT_TRUE(level["correction_swing_deg"].is_null());
}

TEST(HoldJson, WhatIsNotKnownIsNull) {
    auto job = fixtures::wedge_job(2, 112, 0);
    job.head.bolt_holes.clear();
    job.fixture.friction.reset();
    const auto json = json_of(job, hold::plan(job));
    EXPECT_TRUE(json["posts"].is_null());
    EXPECT_TRUE(json["level"].is_null());
    EXPECT_TRUE(json["setups"][0]["safety"]["slip_factor"].is_null());
    EXPECT_TRUE(json["setups"][0]["safety"]["slides_when_released"].is_null());
}

TEST(HoldText, SaysSetupsMapPostsAndFixtures) {
    const auto job = fixtures::pent_roof_job();
    const auto text = text_of(job, hold::plan(job), {{}, LengthUnit::inch});
    for (const char* words :
         {"Setups", "Map of setup A", "Map of setup B", "Posts", "Fixtures", "16.000", "SLIDES"})
        EXPECT_NE(text.find(words), std::string::npos) << words << "\n" << text;
}

// DejaVu Sans: a digit is 1303/2048 of the size wide; so is a sum of digits.
TEST(Lettering, WidthsWrapAndFit) {
    EXPECT_NEAR(words_width("0123456789", 2048), 13030, 1e-9);
    EXPECT_GT(words_width("guide", 3, Face::bold), words_width("guide", 3));
    const std::string words = "set the posts with a tape before the head is lifted";
    std::string joined;
    for (const auto& line : wrapped_lines(words, 40, 3)) {
        EXPECT_LE(words_width(line, 3), 40);
        joined += (joined.empty() ? "" : " ") + line;
    }
    EXPECT_EQ(joined, words);
    EXPECT_EQ(fitted(words, 500, 3), words);
    EXPECT_LE(words_width(fitted(words, 30, 3), 3), 30);
}

TEST(Scale, UsualRatiosThatFit) {
    Extent2 extent;
    extent.hold({0, 0});
    extent.hold({500, 150});
    const Scale scale(extent, Frame{{10, 10}, 180, 80});
    EXPECT_EQ(scale.words(), "1 : 3");
    EXPECT_NEAR(scale.length(300), 100, 1e-12);
    EXPECT_NEAR((scale.at({250, 75}) - Vec2(100, 50)).norm(), 0, 1e-12);
    EXPECT_LT(scale.at({0, 100}).y(), scale.at({0, 0}).y());
}

std::size_t count_of(const std::string& text, const std::string& what) {
    std::size_t count = 0;
    for (std::size_t at = text.find(what); at != std::string::npos; at = text.find(what, at + 1)) ++count;
    return count;
}

TEST(HoldDrawings, PlanHasEverySeatOnce) {
    const auto job = fixtures::pent_roof_job();
    const auto hold = hold::plan(job);
    const auto plan = draw_head_plan(job, hold, {186, 90, LengthUnit::mm, Medium::screen});
    const auto svg = plan.document();
    EXPECT_LE(plan.height(), 90);
    for (const auto& valve : job.head.valves) EXPECT_EQ(count_of(svg, "id=\"plan-" + valve.id + "\""), 1u);
    EXPECT_NE(svg.find("posts a to b"), std::string::npos);
}

TEST(HoldDrawings, SlidingHeadIsDrawnAsACaution) {
    auto job = fixtures::wedge_job();
    const auto sliding = draw_hold(job, hold::plan(job), 0, {}).document();
    EXPECT_NE(sliding.find("SLIDES"), std::string::npos);
    EXPECT_NE(sliding.find("s-warn"), std::string::npos);
    job.fixture.captive = true;
    const auto held = draw_hold(job, hold::plan(job), 0, {}).document();
    EXPECT_EQ(held.find("SLIDES"), std::string::npos);
    EXPECT_EQ(held.find("class=\"s-warn\""), std::string::npos);
}

plan::Plan plan_of(const job::Job& job) {
    return plan::make_plan(job);
}

// Every text of a page starts and ends inside the paper, by the widths of the typeface. Drawings placed in
// the page keep their own coordinates inside a translated group, so only the page's own words are judged.
void expect_words_inside(const std::string& svg, const PaperSize& paper) {
    std::string own, line;
    int depth = 0;  // of groups
    for (std::istringstream lines(svg); std::getline(lines, line);) {
        if (line.starts_with("<g ")) ++depth;
        if (depth == 0) own += line + '\n';
        if (line.starts_with("</g>")) --depth;
    }
    EXPECT_EQ(depth, 0);
    const std::regex words(
        R"re(<text x="([-0-9.]+)" y="([-0-9.]+)" font-size="([0-9.]+)" text-anchor="(\w+)"[^>]*>([^<]*)</text>)re");
    std::size_t seen = 0;
    for (auto at = std::sregex_iterator(own.begin(), own.end(), words); at != std::sregex_iterator();
         ++at, ++seen) {
        const double x = std::stod((*at)[1]), y = std::stod((*at)[2]), size = std::stod((*at)[3]);
        const double wide = words_width((*at)[5].str(), size);
        const double left = (*at)[4] == "end" ? x - wide : (*at)[4] == "middle" ? x - wide / 2 : x;
        EXPECT_GE(left, 5) << (*at)[5];
        EXPECT_LE(left + wide, paper.width_mm - 5) << (*at)[5];
        EXPECT_GE(y - size, 5) << (*at)[5];
        EXPECT_LE(y, paper.height_mm - 5) << (*at)[5];
    }
    EXPECT_GE(seen, 5u);  // the last page may carry little beside its heading
}

TEST(SetupSheet, OneToThreePagesInEitherUnitAndPaper) {
    for (const auto& job : {fixtures::wedge_job(), fixtures::pent_roof_job()}) {
        const auto plan = plan_of(job);
        for (const auto& paper : {a4, letter})
            for (const auto unit : {LengthUnit::mm, LengthUnit::inch}) {
                const auto pages = setup_sheet(job, plan, {paper, unit});
                EXPECT_GE(pages.size(), 1u);
                EXPECT_LE(pages.size(), 3u);
                for (const auto& page : pages) expect_words_inside(page, paper);
                EXPECT_EQ(pages, setup_sheet(job, plan, {paper, unit}));
            }
    }
}

TEST(SetupSheet, AManyValvedHeadGoesOnOverThePage) {
    const auto job = fixtures::pent_roof_job(16);
    const auto plan = plan_of(job);
    const auto pages = setup_sheet(job, plan, {a4, LengthUnit::inch});
    std::string all;
    for (const auto& page : pages) {
        expect_words_inside(page, a4);
        all += page;
    }
    // Each guide heads one row of one table.
    for (const auto& valve : job.head.valves)
        EXPECT_GE(count_of(all, ">" + valve.id + "<") + count_of(all, ">" + valve.id + " (datum)<"), 2u)
            << valve.id;
    EXPECT_NE(all.find("page 1 of " + std::to_string(pages.size())), std::string::npos);
}

// Every guide of its own incline and cant: as many setups as directions of any use.
job::Job splayed(int cylinders) {
    job::Job job = fixtures::pent_roof_job(cylinders);
    job.fixture.swing = {rad(-20), rad(20)};
    job.machine.travel_x = 4000;
    for (std::size_t v = 0; v < job.head.valves.size(); ++v) {
        auto& valve = job.head.valves[v];
        valve.incline += rad(1.5) * static_cast<double>(v % 3);
        valve.cant = rad(2.0) * (static_cast<double>(v % 4) - 1.5);
    }
    return job;
}

// 128 valves are the most a job holds.
// Three pages, and as many more as the card's rows, which are never set smaller, need.
TEST(SetupSheet, FewPagesForEveryHeadAndNoSeatLeftOut) {
    for (const auto& job : {fixtures::wedge_job(8), fixtures::wedge_job(64), fixtures::pent_roof_job(8),
                            fixtures::pent_roof_job(32), splayed(2), splayed(8)}) {
        const auto plan = plan_of(job);
        for (const auto& paper : {a4, letter}) {
            const auto pages = setup_sheet(job, plan, {paper, LengthUnit::inch});
            const std::size_t rows = job.head.valves.size() + 4 * plan.hold.setups.size();
            EXPECT_LE(pages.size(), 3 + rows / 16) << job.title << " " << job.head.valves.size() << " in "
                                                   << plan.hold.setups.size() << " setups";
            std::string all;
            for (const auto& page : pages) {
                expect_words_inside(page, paper);
                all += page;
            }
            for (const auto& valve : job.head.valves)
                EXPECT_GE(count_of(all, ">" + valve.id + "<") + count_of(all, ">" + valve.id + " (datum)<") +
                              count_of(all, ">" + valve.id + " •<"),
                          1u)
                    << valve.id;
        }
    }
}

TEST(SetupSheet, SaysWhatMustBeSaid) {
    auto job = fixtures::wedge_job();
    job.head.mass = 30;
    const auto pages = setup_sheet(job, plan_of(job), {a4, LengthUnit::mm});
    std::string all;
    for (const auto& page : pages) all += page;
    for (const char* words :
         {"Right before the first cut", "Cautions", "two people or a hoist", "Posts a and b",
          "Eye protection", "Intake seats", "Exhaust seats", "Order of work", "lengths in mill"})
        EXPECT_NE(all.find(words), std::string::npos) << words;
}

TEST(SetupSheet, APlanThatCannotRunSaysSoFirst) {
    auto job = fixtures::wedge_job();
    job.machine.travel_x = 200;
    const auto pages = setup_sheet(job, plan_of(job), {a4, LengthUnit::mm});
    EXPECT_NE(pages.front().find("STOP: this plan cannot be carried out as asked"), std::string::npos);
}

TEST(SetupSheet, ManyWarningsOfOneSortAreOneSentence) {
    Notices notices;
    for (const char* id : {"1I", "2I", "3I", "4I", "5I"})
        notices.warnings.push_back({"shape", "tip-grind", id, saying("grinds too much"), Severity::note});
    notices.warnings.push_back({"hold", "lift", std::nullopt, saying("heavy"), Severity::note});
    const auto sentences = gathered_warnings(notices, Severity::note, {});
    ASSERT_EQ(sentences.size(), 2u);
    EXPECT_EQ(sentences[0], "1I: grinds too much (likewise 2I, 3I, 4I, 5I: figures in plan.json)");
    EXPECT_TRUE(gathered_warnings(notices, Severity::blocking, {}).empty());
}

}  // namespace
}  // namespace seatwright::papers
