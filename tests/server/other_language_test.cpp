// What the server says of places, feeds and jobs is made in one place for a language: in another one nothing
// of it is left in English.
#include <gtest/gtest.h>

#include <fstream>

#include "client.hpp"
#include "other_language.hpp"
#include "server/answers/job_card.hpp"
#include "server/answers/job_state.hpp"
#include "server/feeds/hub.hpp"
#include "server/places/sending.hpp"
#include "server/places/standing.hpp"

namespace seatwright::server {
namespace {

class OtherLanguage : public testing::Test {
  protected:
    OtherLanguage() {
        const auto made = shop.pat->post(
            "/api/places",
            {{"machine", "an invented mill"}, {"name", "stick"}, {"kind", "folder"}, {"path", stick.path()}});
        EXPECT_EQ(made.status, 201) << made.text;
        wanted.place = made.json().value("id", 0LL);
        wanted.job = job;
        wanted.head = "6";
        wanted.files = {file};
        wanted.speech = speech;
    }
    static void expect_other(const std::string& words) {
        EXPECT_EQ(fixtures::english_left(words), std::vector<std::string>{}) << words;
        EXPECT_GT(fixtures::runs_of_other(words), 0u) << words;
    }
    store::Person pat() const { return shop.bench->people.all().front(); }
    store::Answer<long long> send() {
        TaskReport report;
        return send_programs(*shop.bench, pat(), wanted, report);
    }
    Json sent() const { return sent_json(*shop.bench, job, "6", speech); }
    void change_the_plan() const {
        const auto answer = shop.pat->post(
            path_of(job, "/edits"), {{"version", shop.bench->jobs.row(job)->version},
                                     {"edits", {{{"key", "depth.cleanup_margin"}, {"value", "0.03 mm"}}}}});
        EXPECT_EQ(answer.status, 200) << answer.text;
    }

    const fixtures::Other other = fixtures::other_language();
    const Speech speech{LengthUnit::inch, other.catalogue.get()};
    TestShop shop;
    store::TestFolder stick;
    const long long job = shop.job();
    const std::string file = "program-6-A-1-first.ngc";
    WantedSending wanted;
};

TEST_F(OtherLanguage, WhatStandsAtAControlAndWhatIsToBeDoneThere) {
    ASSERT_TRUE(send());
    expect_other(sent()["sent"][0]["words"]);
    change_the_plan();
    expect_other(sent()["old"]);
    expect_other(sent()["sent"][0]["words"]);
    const auto refused = send();
    ASSERT_FALSE(refused);
    expect_other(refused.error().text);
    const auto back = [&] {
        TaskReport report;
        return read_back(*shop.bench, pat(), sent()["sent"][0]["id"], speech, report);
    }();
    ASSERT_FALSE(back);
    expect_other(back.error().text);
    // What somebody changed there is left alone, and the record keeps what was said of it.
    std::ofstream(stick.file(std::to_string(job) + "-" + file), std::ios::app) << "(a line by hand)\n";
    const auto notes = look_at_place(*shop.bench, *shop.bench->places.row(wanted.place), speech);
    ASSERT_EQ(notes.size(), 1u);
    expect_other(in_words(notes[0], speech));
}

TEST_F(OtherLanguage, WhySourcesGiveNothing) {
    SourceSettings nobody;
    nobody.host = "127.0.0.1";
    nobody.port = 1;
    const Json said = tried(nobody, std::chrono::milliseconds(50), speech)["said"];
    ASSERT_FALSE(said.empty());
    expect_other(said[0]);
}

TEST_F(OtherLanguage, WhatIsNextWhereTwoValuesDifferAndWhatIsWorkedOutAgain) {
    const auto mia = shop.person("Mia", "machinist");
    const auto touch = [](const std::string& key, double y) {
        return Json{{"client_key", key},
                    {"kind", "touch"},
                    {"head", "9"},
                    {"valve", "1I"},
                    {"values", {{"x", 1}, {"y", y}}},
                    {"units", "mm"}};
    };
    EXPECT_EQ(shop.pat->post(path_of(job, "/entries"), touch("phone-00001", 2)).status, 201);
    EXPECT_EQ(mia->post(path_of(job, "/entries"), touch("phone-00002", 2.5)).status, 201);
    const auto stored = shop.bench->cache.stored(job);
    const auto computation = shop.bench->cache.computation(stored, "9");
    expect_other(next_of(*stored, computation->lines(LengthUnit::mm), "9", speech).next);
    expect_other(in_words(no_file_until_worked_out(), speech));
}

}  // namespace
}  // namespace seatwright::server
