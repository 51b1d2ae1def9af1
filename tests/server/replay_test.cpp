// Any job at any entry gives the numbers it gave then, however much has changed since.
#include <gtest/gtest.h>

#include "client.hpp"

namespace seatwright::server {
namespace {

const std::vector<std::string> stages{"hold", "find", "shape", "cut", "prove"};

struct Then {
    long long sequence = 0;
    std::map<std::string, std::string> results;
    std::string file;
};

Then as_it_is(TestShop& shop, long long job) {
    Then then;
    then.sequence = shop.pat->get(path_of(job)).json()["sequence"];
    for (const auto& stage : stages)
        then.results[stage] = shop.pat->get(path_of(job, "/results/" + stage)).text;
    then.file = shop.pat->get(path_of(job, "/export")).text;
    return then;
}

TEST(Replay, AnyJobAtAnyEntryGivesTheNumbersOfThatMoment) {
    TestShop shop;
    const long long job = shop.job();
    std::vector<Then> known{as_it_is(shop, job)};
    const auto enter = [&](const Json& entry) {
        const auto answer = shop.pat->post(path_of(job, "/entries"), entry);
        ASSERT_EQ(answer.status, 201) << answer.text;
        known.push_back(as_it_is(shop, job));
    };
    const auto edit = [&](const std::string& key, const Json& value) {
        const Json now = shop.pat->get(path_of(job)).json();
        const auto answer =
            shop.pat->post(path_of(job, "/edits"),
                           {{"version", now["version"]}, {"edits", {{{"key", key}, {"value", value}}}}});
        ASSERT_EQ(answer.status, 200) << answer.text;
    };
    for (int n = 0; n < 3; ++n) {
        enter({{"client_key", "seat-" + std::to_string(n) + "-key"},
               {"kind", "seat"},
               {"head", "6"},
               {"valve", "1I"},
               {"units", "in"},
               {"values", {{"stem_height", 2.001 + 0.001 * n}}}});
        edit("title", "title " + std::to_string(n));
        enter({{"client_key", "touch-" + std::to_string(n) + "-key"},
               {"kind", "touch"},
               {"head", "6"},
               {"valve", "2I"},
               {"units", "in"},
               {"values", {{"x", 0.001 * n}, {"y", 0.002}}}});
        const Json shelf = shop.pat->get("/api/shelf").json();
        std::string text = shelf["text"];
        const auto answer = shop.pat->send(
            "PUT", "/api/shelf", Json{{"version", shelf["version"]}, {"text", text + "# worn\n"}}.dump());
        ASSERT_EQ(answer.status, 200) << answer.text;
    }
    std::set<std::string> different;
    for (const auto& then : known) {
        const std::string at = "?entry=" + std::to_string(then.sequence);
        for (const auto& stage : stages)
            EXPECT_EQ(shop.pat->get(path_of(job, "/results/" + stage + at)).text, then.results.at(stage))
                << stage << at;
        EXPECT_EQ(shop.pat->get(path_of(job, "/export" + at)).text, then.file) << at;
        different.insert(then.file);
    }
    EXPECT_GT(different.size(), 3u) << "they differ from round to round";
    const auto none = shop.pat->get(path_of(job, "/results/find?entry=999"));
    EXPECT_EQ(none.status, 404);
    EXPECT_NE(none.error().find("there is no entry 999"), std::string::npos) << none.text;
    EXPECT_EQ(shop.pat->get(path_of(job, "/results/find?entry=x")).status, 400);
}

}  // namespace
}  // namespace seatwright::server
