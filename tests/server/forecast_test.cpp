// The batch in advance, through the interface: the command line's own figures, what is tried, new readings.
#include <gtest/gtest.h>

#include "client.hpp"
#include "seatwright/batch/batch.hpp"
#include "seatwright/forecast/forecast.hpp"

namespace seatwright::server {
namespace {

const Json rooms = {{"spread", 70}, {"causes", 60}, {"changes", 60}, {"by_head", 200}};

Answered asked(TestShop& shop, long long job, const Json& tried, bool whole = false) {
    return shop.pat->post(path_of(job, "/forecast"), {{"tried", tried}, {"whole", whole}, {"room", rooms}});
}

double rate_of(const Answered& answer) {
    EXPECT_EQ(answer.status, 200) << answer.text.substr(0, 300);
    return answer.json()["result"]["pass_rate"].get<double>();
}

TEST(ForecastPage, SaysWhatTheCommandLineSays) {
    TestShop shop;
    for (const auto& example : examples()) {
        const long long job = shop.job(example.name);
        auto answer = asked(shop, job, nullptr, true);
        ASSERT_EQ(answer.status, 200) << example.name << answer.text.substr(0, 300);
        const Json page = answer.json();
        auto read = read_with_shop(example.text, default_shop());
        ASSERT_TRUE(read);
        plan::Run run(std::make_shared<const job::Job>(*read), {});
        const auto direct = forecast::forecast(run.job(), run.plan(), run.proof());
        Json expected = report::json_frame(run.job(), direct);
        expected.update(batch::json_of(run.job(), direct));
        Json found = page["result"];
        expected.erase("seconds");
        found.erase("seconds");
        EXPECT_EQ(found, expected) << example.name;
        EXPECT_EQ(page["sentences"].get<std::vector<std::string>>(),
                  in_words(batch::forecast_sentences(run.job(), direct), report::speech_of(run.job())));
        EXPECT_EQ(page["cells"]["inputs"].size(), expected["inputs"].size());
        EXPECT_FALSE(page["next"].get<std::string>().empty());
        for (const auto& spread : page["drawings"]["spreads"])
            EXPECT_NE(spread["svg"].get<std::string>().find("<svg"), std::string::npos);
        EXPECT_NE(page["drawings"]["changes"].get<std::string>().find("<svg"), std::string::npos);
    }
}

// What is tried gives what the job would give with that figure in it; nothing is stored.
TEST(ForecastPage, WhatIsTriedIsWhatTheKeyWouldGive) {
    TestShop shop;
    const long long job = shop.job();
    const auto before = shop.pat->get(path_of(job)).json();
    struct Case {
        Json tried;
        Json edits;
    };
    const std::vector<Case> cases{
        {{{"touches", 3}}, {{{"key", "forecast.touches"}, {"value", "3"}}}},
        {{{"heads", 12}}, {{{"key", "forecast.heads"}, {"value", 12}}}},
        {{{"change_every", 7}}, {{{"key", "forecast.change_every"}, {"value", 7}}}},
        {{{"heads", 30}, {"touches", 1}, {"change_every", 9}},
         {{{"key", "forecast.heads"}, {"value", 30}},
          {{"key", "forecast.touches"}, {"value", "1"}},
          {{"key", "forecast.change_every"}, {"value", 9}}}},
    };
    for (const auto& one : cases) {
        const double tried = rate_of(asked(shop, job, one.tried));
        const Json now = shop.pat->get(path_of(job)).json();
        EXPECT_EQ(now["version"], before["version"]) << "a figure tried is not stored";
        TestShop other;
        const long long written = other.job();
        const auto kept = other.pat->post(path_of(written, "/edits"), {{"version", 1}, {"edits", one.edits}});
        ASSERT_EQ(kept.status, 200) << kept.text;
        // Each to 0.05 %, as a drag is.
        EXPECT_NEAR(tried, rate_of(asked(other, written, nullptr, true)), 7e-4) << one.tried.dump();
    }
    EXPECT_EQ(asked(shop, job, {{"heads", 12}}).json()["result"]["heads"], 12);
    EXPECT_EQ(asked(shop, job, {{"heads", 12}}).json()["result"]["by_head"].size(), 12U);
}

TEST(ForecastPage, LooserPostsMakeFewerGoodHeads) {
    TestShop shop;
    const long long job = shop.job();
    double before = 2;
    for (const double clearance : {0.0, 0.3, 0.6, 1.2, 2.4}) {
        const double now = rate_of(asked(shop, job, {{"post_clearance_mm", clearance}, {"touches", 0}}));
        EXPECT_LE(now, before + 1e-3) << clearance;
        before = now;
    }
    const double tight = rate_of(asked(shop, job, {{"post_clearance_mm", 0.0}, {"touches", 0}}));
    EXPECT_GT(tight - before, 0.01) << "between no clearance and 2.4 mm";
    // What was kept from the questions before does not change the answer.
    TestShop fresh;
    EXPECT_NEAR(before, rate_of(asked(fresh, fresh.job(), {{"post_clearance_mm", 2.4}, {"touches", 0}})),
                5e-4);
}

TEST(ForecastPage, EveryPilotOnOfferCanBeTried) {
    TestShop shop;
    const long long job = shop.job();
    const Json can = asked(shop, job, nullptr).json()["tryable"];
    int tried = 0;
    for (const auto& [kind, pilots] : can["pilots"].items())
        for (const auto& name : pilots["of"]) {
            const double rate = rate_of(asked(shop, job, {{"pilot", {{kind, name}}}}));
            EXPECT_GE(rate, 0);
            EXPECT_LE(rate, 1);
            ++tried;
        }
    EXPECT_GT(tried, 0);
    EXPECT_EQ(asked(shop, job, {{"pilot", {{"intake", "of another shop"}}}}).status, 400);
}

// A cutter, or a gauge, gives what the job with that one alone on its shelf would give.
TEST(ForecastPage, CuttersAndGaugesOnOfferCanBeTried) {
    TestShop shop;
    const long long job = shop.job();
    const Json before = asked(shop, job, nullptr, true).json();
    const Json can = before["tryable"];
    int cutters = 0, gauges = 0;
    for (const auto& [kind, offer] : can["cutters"].items()) {
        EXPECT_EQ(offer["of"][0], offer["now"]);
        for (const auto& name : offer["of"]) {
            const Json tried = {{"cutter", {{kind, name}}}};
            const Json after = asked(shop, job, tried, true).json();
            const double rate = after["result"]["pass_rate"];
            EXPECT_EQ(rate == before["result"]["pass_rate"].get<double>(), name == offer["now"]) << name;
            // As "what helps most" has it.
            for (const auto& change : before["result"]["changes"])
                if (change["what"] == kind + " cutter" && change["to"] == name) {
                    EXPECT_NEAR(change["pass_rate"].get<double>(), rate, 2e-4) << name;
                    ++cutters;
                }
        }
    }
    for (const auto& [quantity, offer] : can["gauges"].items())
        for (const auto& name : offer["of"]) {
            const Json after = asked(shop, job, {{"gauge", {{quantity, name}}}}, true).json()["result"];
            EXPECT_EQ(after["pass_rate"], before["result"]["pass_rate"]) << "no head is better for a gauge";
            const std::string what = quantity == "stem_height" ? "stem height" : quantity;
            for (const auto& change : before["result"]["changes"])
                if (change["what"] == what + " gauge" && change["to"] == name) {
                    EXPECT_NEAR(change["as_measured"]["verdict"]["pass"].get<double>(),
                                after["verdict"]["pass"].get<double>(), 2e-4)
                        << name;
                    ++gauges;
                }
        }
    EXPECT_GT(gauges, 2);
    EXPECT_EQ(cutters > 0, !can["cutters"].empty());
    EXPECT_EQ(asked(shop, job, {{"cutter", {{"intake", "of another shop"}}}}).status, 400);
    EXPECT_EQ(asked(shop, job, {{"gauge", {{"width", "dial on the pilot"}}}}).status, 400);
    EXPECT_EQ(asked(shop, job, {{"gauge", 7}}).status, 400);
}

TEST(ForecastPage, FollowsEveryReading) {
    TestShop shop;
    const long long job = shop.job();
    const Json before = asked(shop, job, nullptr, true).json();
    // Three heads of which widths scatter three tenths of a millimetre either way.
    int n = 0;
    for (const std::string head : {"91", "92", "93"})
        for (const std::string valve : {"1I", "2I", "1E", "2E"}) {
            const auto taken =
                shop.pat->post(path_of(job, "/entries"),
                               {{"client_key", "forecast-key-" + std::to_string(n)},
                                {"kind", "proof"},
                                {"head", head},
                                {"valve", valve},
                                {"units", "mm"},
                                {"values", {{"runout", 0.01}, {"width", {n % 2 == 0 ? 1.2 : 1.8}}}}});
            ASSERT_EQ(taken.status, 201) << taken.text;
            ++n;
        }
    const Json after = asked(shop, job, nullptr, true).json();
    EXPECT_GT(after["sequence"].get<long long>(), before["sequence"].get<long long>());
    const auto input = [](const Json& of, const std::string& what) {
        for (const auto& one : of["result"]["inputs"])
            if (one["what"] == what) return one;
        return Json();
    };
    EXPECT_EQ(input(after, "forecast.width_sd")["from"], "record");
    EXPECT_GT(input(after, "forecast.width_sd")["value"].get<double>(),
              input(before, "forecast.width_sd")["value"].get<double>());
    EXPECT_LT(after["result"]["pass_rate"].get<double>(), before["result"]["pass_rate"].get<double>());
}

TEST(ForecastPage, BadFiguresAreRefusedWithASentence) {
    TestShop shop;
    const long long job = shop.job();
    for (const Json& tried : std::vector<Json>{{{"post_clearance_mm", -1}},
                                               {{"post_clearance_mm", "wide"}},
                                               {{"post_clearance_mm", 1e9}},
                                               {{"touches", 1000}},
                                               {{"touches", 1.5}},
                                               {{"heads", 0}},
                                               {{"heads", 1e12}},
                                               {{"change_every", -2}},
                                               {{"pilot", "thick"}},
                                               "everything",
                                               7}) {
        const auto answer = asked(shop, job, tried);
        EXPECT_EQ(answer.status, 400) << tried.dump() << answer.text.substr(0, 200);
        EXPECT_NE(answer.error().find("tried"), std::string::npos) << answer.error();
    }
    const auto path = path_of(job, "/forecast");
    EXPECT_EQ(shop.pat->post(path, {{"room", {{"spread", 1e9}}}}).status, 400);
    EXPECT_EQ(shop.pat->post(path, {{"units", "feet"}}).status, 400);
    EXPECT_EQ(shop.pat->post(path_of(job + 77, "/forecast"), Json::object()).status, 404);
    EXPECT_TRUE(shop.pat->post(path, Json::object()).json()["drawings"].is_null());
}

TEST(ForecastPage, IsAPaperToo) {
    TestShop shop;
    const long long job = shop.job();
    const auto pdf = shop.pat->get(path_of(job, "/forecast.pdf?units=in"));
    EXPECT_EQ(pdf.status, 200);
    EXPECT_EQ(pdf.text.substr(0, 5), "%PDF-");
    EXPECT_EQ(shop.pat->get(path_of(job, "/forecast.pdf?paper=wall")).status, 400);
}

}  // namespace
}  // namespace seatwright::server
