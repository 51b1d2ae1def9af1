// The forecast's sentences, tables and pages, of an invented wedge head.
#include "seatwright/batch/forecast_paper.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <regex>
#include <tuple>

#include "job_fixtures.hpp"
#include "seatwright/batch/batch.hpp"
#include "seatwright/batch/draw_forecast.hpp"
#include "seatwright/papers/page/lettering.hpp"
#include "seatwright/plan/plan.hpp"
#include "seatwright/prove/prove.hpp"
#include "spoken.hpp"

namespace seatwright {
namespace {

forecast::Forecast forecast_of(const job::Job& job) {
    const plan::Plan plan = plan::make_plan(job);
    forecast::Asked asked;
    asked.changes = asked.limits = false;
    return forecast::forecast(job, plan, prove::judge(job), asked);
}

job::Job wedge() {
    job::Job job = fixtures::wedge_job(2, 112, 19.5);
    const hold::Hold held = hold::plan(job);
    for (const auto& valve : held.setups.at(0).valves)
        job.readings.touches.push_back({.valve = job.head.valves[valve.valve].id, .at = valve.readout});
    return job;
}

// A standard uncertainty of 0.4 um is no "0.0000 in": what is below the last place has two figures.
TEST(ForecastText, SmallFiguresAreNotWrittenAsNothing) {
    EXPECT_EQ(batch::input_cells({"gauge", 0.0004, "mm", forecast::From::job}, LengthUnit::inch).at(1),
              "0.000016 in");
    EXPECT_EQ(batch::input_cells({"gauge", 0.0004, "mm", forecast::From::job}, LengthUnit::mm).at(1),
              "0.00040 mm");
    EXPECT_EQ(batch::input_cells({"gauge", 0.5, "mm", forecast::From::job}, LengthUnit::mm).at(1),
              "0.500 mm");
    EXPECT_EQ(batch::input_cells({"gauge", 0.0, "mm", forecast::From::job}, LengthUnit::mm).at(1),
              "0.000 mm");
}

// What is computed to less than the last place is not computed "to 0.000 %".
TEST(ForecastText, AnErrorBelowTheLastPlaceIsNotNone) {
    const job::Job job = wedge();
    forecast::Forecast f = forecast_of(job);
    f.pass_rate = 0.5;
    f.pass_error = 3e-6;
    EXPECT_NE(spoken(batch::forecast_sentences(job, f).front()).find("(computed to better than 0.001 %)"),
              std::string::npos);
    f.pass_error = 2e-4;
    EXPECT_NE(spoken(batch::forecast_sentences(job, f).front()).find("(computed to 0.020 %)"),
              std::string::npos);
}

// Of a drawing's words in one line: where each begins and ends, mm.
std::vector<std::pair<double, double>> in_line(const std::string& svg, double y) {
    std::vector<std::pair<double, double>> out;
    const std::regex text(R"re(<text[^>]* x="([-0-9.]+)" y="([-0-9.]+)"[^>]*>([^<]*)</text>)re");
    for (std::sregex_iterator at(svg.begin(), svg.end(), text), end; at != end; ++at)
        if (std::abs(std::stod((*at)[2]) - y) < 0.05) {
            const double half = papers::words_width((*at)[3].str(), 2.5) / 2, x = std::stod((*at)[1]);
            out.emplace_back(x - half, x + half);
        }
    std::sort(out.begin(), out.end());
    return out;
}

// Limits near to one another and to the mean: their figures stand side by side and on the paper.
TEST(ForecastPaper, FiguresUnderAHistogramStandApart) {
    forecast::Characteristic of{"width", job::Kind::intake, {}, {}, {}, {}, 0, {}, {}, {}, {}, {}};
    of.bars = {{1.0, 2.0, 0.5}, {2.0, 3.0, 0.5}};
    for (const double width : {40.0, 55.0, 90.0, 180.0})
        for (const auto& [low, mean, high] :
             {std::tuple{1.98, 2.0, 2.02}, {1.0, 1.01, 1.02}, {2.9, 2.95, 3.0}, {1.2, 2.0, 2.8}}) {
            of.limit_low = low;
            of.mean = mean;
            of.limit_high = high;
            const auto drawn = batch::draw_distribution(of, width, {});
            const auto words = in_line(drawn.embedded(), drawn.height() - 0.5);
            ASSERT_EQ(words.size(), 3U) << drawn.embedded();
            EXPECT_GE(words.front().first, -0.01);
            EXPECT_LE(words.back().second, width + 0.01);
            for (std::size_t i = 0; i + 1 < words.size(); ++i)
                EXPECT_GT(words[i + 1].first - words[i].second, 1.0) << width << " mm, mean " << mean;
        }
}

// On a narrow screen no figure of what helps most is cut off.
TEST(ForecastPaper, WhatHelpsMostIsSaidInFull) {
    forecast::Forecast f;
    forecast::Change change;
    change.what = "stem height gauge";
    change.from = "depth gauge 3 of the long bench";
    change.to = "height stand with a dial";
    change.gain = 0.05;
    f.changes = {change};
    const auto drawn = batch::draw_forecast_changes(f, 52, {}, 5);
    EXPECT_EQ(drawn.embedded().find("…"), std::string::npos) << drawn.embedded();
    EXPECT_GT(drawn.height(), batch::draw_forecast_changes(f, 180, {}, 5).height());
}

// A dashed line stands where the blade is changed, and nowhere a curve rises slowly.
TEST(ForecastPaper, AFreshBladeIsWhereTheCurveBeginsAnew) {
    const auto dashed = [](std::vector<double> rates) {
        forecast::Forecast f;
        f.by_head = std::move(rates);
        const std::string svg = batch::draw_by_head(f, 90).embedded();
        std::size_t n = 0;
        for (std::size_t at = svg.find("dasharray"); at != std::string::npos;
             at = svg.find("dasharray", at + 1))
            ++n;
        return n;
    };
    EXPECT_EQ(dashed({0.90, 0.91, 0.92, 0.91, 0.88}), 0U);
    EXPECT_EQ(dashed({0.90, 0.88, 0.86, 0.90, 0.88, 0.86, 0.90, 0.88}), 2U);
    EXPECT_EQ(dashed({0.90, 0.90, 0.90}), 0U);
}

// A share short of all is never written as all, on paper and terminal alike.
TEST(ForecastText, AlmostAllIsNotAll) {
    const job::Job job = wedge();
    forecast::Forecast f = forecast_of(job);
    ASSERT_FALSE(f.characteristics.empty());
    for (auto& c : f.characteristics) c.pass_rate = 0.99999999;
    const std::string text = batch::text_of(job, f, {});
    EXPECT_NE(text.find("> 99.999 %"), std::string::npos) << text;
    std::string pages;
    for (const auto& page : batch::forecast_pages(job, f, {papers::a4, LengthUnit::mm})) pages += page;
    EXPECT_NE(pages.find("within &gt; 99.999 %"), std::string::npos);
    EXPECT_EQ(pages.find("100.0 %"), std::string::npos);
}

// A curve over the batch is drawn where heads differ; where they do not, that is said.
TEST(ForecastPaper, OverTheBatchACurveOrASentence) {
    const job::Job job = wedge();
    forecast::Forecast f = forecast_of(job);
    const auto pages_of = [&] {
        std::string pages;
        for (const auto& page : batch::forecast_pages(job, f, {papers::a4, LengthUnit::mm})) pages += page;
        return pages;
    };
    f.by_head.assign(30, 0.9);
    std::string pages = pages_of();
    EXPECT_EQ(pages.find("Good heads over the batch"), std::string::npos);
    EXPECT_NE(pages.find("no wear of a blade is known"), std::string::npos);
    f.by_head.back() = 0.8;
    pages = pages_of();
    EXPECT_NE(pages.find("Good heads over the batch"), std::string::npos);
    EXPECT_EQ(pages.find("no wear of a blade is known"), std::string::npos);
}

}  // namespace
}  // namespace seatwright
