// Papers are told a language as the stages are: sheet, certificate and the paper of a forecast hold no
// sentence of the English catalogue when they are made in another.
#include <gtest/gtest.h>

#include <regex>
#include <string>
#include <vector>

#include "other_language.hpp"
#include "plan/typed_job.hpp"
#include "seatwright/batch/draw_forecast.hpp"
#include "seatwright/batch/forecast_paper.hpp"
#include "seatwright/forecast/forecast.hpp"
#include "seatwright/papers/certificate/certificate.hpp"
#include "seatwright/papers/sheet/sheet.hpp"
#include "seatwright/prove/prove.hpp"

namespace seatwright::papers {
namespace {

using fixtures::english_left, fixtures::runs_of_other;

const std::vector<std::string> examples{"wedge", "canted", "pent-roof"};

// The words of pages, line by line.
std::string words_of(const std::vector<std::string>& pages) {
    static const std::regex text(R"re(<text [^>]*>([^<]*)</text>)re");
    std::string out;
    for (const auto& page : pages)
        for (std::sregex_iterator at(page.begin(), page.end(), text), end; at != end; ++at)
            out += (*at)[1].str() + " ";
    return out;
}

// With figures and readings that somebody stands by, and what a lead let pass.
job::Job spoken_for(job::Job job) {
    job.sure.push_back({.words = "head.mass = 21 kg", .said_by = "A. Miller"});
    if (!job.readings.touches.empty()) {
        auto touch = job.readings.touches[0];
        touch.sure = touch.keep = true;
        job.readings.touches.push_back(touch);
    }
    job.allow.push_back({.what = "plumb 1I", .why = "", .by = ""});
    return job;
}

std::vector<job::Job> jobs() {
    std::vector<job::Job> out;
    for (const auto& example : examples) {
        const job::Job job = fixtures::job_of(example, {});
        out.push_back(spoken_for(job));
        job::Job by_hand = job;
        by_hand.machine.runs = job::Runs::hand;
        for (auto& touch : by_hand.readings.touches) touch.at.x() += 3;
        for (auto& guide : by_hand.readings.guides) guide.top += 0.4;
        out.push_back(by_hand);
        job::Job bare = job;
        bare.readings = {};
        out.push_back(bare);
    }
    return out;
}

TEST(OtherLanguage, TheSheetHasNoEnglishSentenceLeft) {
    const auto other = fixtures::other_language();
    for (const auto& job : jobs()) {
        const auto plan = plan::make_plan(job);
        const auto words =
            words_of(setup_sheet(job, plan, {.unit = job.units, .catalogue = other.catalogue.get()}));
        EXPECT_EQ(english_left(words), std::vector<std::string>{}) << job.title;
        EXPECT_GT(runs_of_other(words), 25U) << job.title;
        EXPECT_GT(english_left(words_of(setup_sheet(job, plan, {.unit = job.units}))).size(), 25U);
    }
}

TEST(OtherLanguage, TheCertificateHasNoEnglishSentenceLeft) {
    const auto other = fixtures::other_language();
    std::size_t said = 0;
    for (const auto& job : jobs()) {
        std::vector<std::string> heads = job.heads();
        heads.emplace_back();  // the batch
        for (const auto& head : heads) {
            const auto proof = prove::judge(job, head);
            const auto words = words_of(certificate_pages(
                job, proof, {.unit = job.units, .record = "", .catalogue = other.catalogue.get()}));
            EXPECT_EQ(english_left(words), std::vector<std::string>{}) << job.title << ", head " << head;
            EXPECT_GT(runs_of_other(words), 0U) << job.title << ", head " << head;
            said += runs_of_other(words);
            const auto english = words_of(certificate_pages(job, proof, {.unit = job.units, .record = ""}));
            EXPECT_GT(english_left(english).size(), 0U);
        }
    }
    EXPECT_GT(said, 150U);
}

TEST(OtherLanguage, ThePaperOfAForecastHasNoEnglishSentenceLeft) {
    const auto other = fixtures::other_language();
    const job::Job job = fixtures::job_of("wedge", {});
    const auto plan = plan::make_plan(job);
    const auto forecast = forecast::forecast(job, plan, prove::judge(job));
    const auto words = words_of(
        batch::forecast_pages(job, forecast, {.unit = job.units, .catalogue = other.catalogue.get()}));
    EXPECT_EQ(english_left(words), std::vector<std::string>{});
    EXPECT_GT(runs_of_other(words), 5U);
}

// What stands in a picture of it where there is nothing to draw, and what a change costs.
TEST(OtherLanguage, ADrawnForecastHasNoEnglishSentenceLeft) {
    const auto other = fixtures::other_language();
    const job::Job job = fixtures::job_of("wedge", {});
    const auto forecast = forecast::forecast(job, plan::make_plan(job), prove::judge(job));
    const auto drawn = [&](const Speech& speech) {
        return words_of({batch::draw_forecast_changes(forecast, 180, speech, 12).embedded(),
                         batch::draw_forecast_changes({}, 180, speech, 12).embedded(),
                         batch::draw_distribution({}, 180, speech).embedded()});
    };
    EXPECT_EQ(english_left(drawn({job.units, other.catalogue.get()})), std::vector<std::string>{});
    EXPECT_GE(runs_of_other(drawn({job.units, other.catalogue.get()})), 2U);
    EXPECT_GE(english_left(drawn({job.units})).size(), 2U);
}

}  // namespace
}  // namespace seatwright::papers
