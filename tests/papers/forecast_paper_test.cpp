// The forecast's sentences, tables and pages, of an invented wedge head.
#include "seatwright/papers/forecast_paper.hpp"

#include <gtest/gtest.h>

#include "job_fixtures.hpp"
#include "seatwright/plan/plan.hpp"
#include "seatwright/prove/prove.hpp"
#include "seatwright/report/report.hpp"

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
    EXPECT_EQ(report::input_cells({"gauge", 0.0004, "mm", forecast::From::job}, LengthUnit::inch).at(1),
              "0.000016 in");
    EXPECT_EQ(report::input_cells({"gauge", 0.0004, "mm", forecast::From::job}, LengthUnit::mm).at(1),
              "0.00040 mm");
    EXPECT_EQ(report::input_cells({"gauge", 0.5, "mm", forecast::From::job}, LengthUnit::mm).at(1),
              "0.500 mm");
    EXPECT_EQ(report::input_cells({"gauge", 0.0, "mm", forecast::From::job}, LengthUnit::mm).at(1),
              "0.000 mm");
}

// A share short of all is never written as all, on paper and terminal alike.
TEST(ForecastText, AlmostAllIsNotAll) {
    const job::Job job = wedge();
    forecast::Forecast f = forecast_of(job);
    ASSERT_FALSE(f.characteristics.empty());
    for (auto& c : f.characteristics) c.pass_rate = 0.99999999;
    const std::string text = report::text_of(job, f, {});
    EXPECT_NE(text.find("> 99.999 %"), std::string::npos) << text;
    std::string pages;
    for (const auto& page : papers::forecast_pages(job, f, {papers::a4, LengthUnit::mm})) pages += page;
    EXPECT_NE(pages.find("within &gt; 99.999 %"), std::string::npos);
    EXPECT_EQ(pages.find("100.0 %"), std::string::npos);
}

// A curve over the batch is drawn where heads differ; where they do not, that is said.
TEST(ForecastPaper, OverTheBatchACurveOrASentence) {
    const job::Job job = wedge();
    forecast::Forecast f = forecast_of(job);
    const auto pages_of = [&] {
        std::string pages;
        for (const auto& page : papers::forecast_pages(job, f, {papers::a4, LengthUnit::mm})) pages += page;
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
