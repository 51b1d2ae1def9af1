// Programs sent to a machine through the interface: only those that may run, on record before and after, and
// what may be running touched by nobody until somebody says so.
#include <gtest/gtest.h>

#include <chrono>
#include <fstream>
#include <thread>

#include "client.hpp"
#include "place/pty.hpp"
#include "seatwright/base/sha256.hpp"

namespace seatwright::server {
namespace {

namespace fs = std::filesystem;

struct Mill {
    TestShop shop;
    store::TestFolder stick;
    long long job = shop.job(), place = 0;
    std::string head = "6", file = "program-6-A-1-first.ngc";

    explicit Mill(const Json& settings = nullptr) {
        Json body{
            {"machine", "an invented mill"}, {"name", "stick"}, {"kind", "folder"}, {"path", stick.path()}};
        if (!settings.is_null()) body.update(settings);
        const auto made = shop.pat->post("/api/places", body);
        EXPECT_EQ(made.status, 201) << made.text;
        place = made.json().value("id", 0LL);
    }
    std::string there() const { return stick.file(std::to_string(job) + "-" + file); }
    std::string contents(const std::string& path) const {
        std::ifstream in(path, std::ios::binary);
        return {std::istreambuf_iterator<char>(in), {}};
    }
    // The task's end; or the refusal.
    Json send(const Json& more = Json::object()) {
        Json body{{"place", place}, {"head", head}, {"files", {file}}};
        body.update(more);
        const auto answer = shop.pat->post(path_of(job, "/send"), body);
        if (answer.status != 202) return {{"state", "refused"}, {"sentence", answer.error()}};
        return ended(answer.json()["id"]);
    }
    Json ended(const std::string& task) {
        for (int n = 0; n < 1500; ++n) {
            const Json now = shop.pat->get("/api/tasks/" + task).json();
            if (now["state"] != "running") return now;
            std::this_thread::sleep_for(std::chrono::milliseconds(20));
        }
        return {{"state", "never ended"}};
    }
    Json sent() { return shop.pat->get(path_of(job, "/sent?head=" + head)).json(); }
    Json say(const std::string& word) {
        const auto all = sent()["sent"];
        return shop.pat->post("/api/sendings/" + all.back()["id"].dump() + "/said", {{"word", word}}).json();
    }
    // Another touch moves the plan.
    void change_the_plan() {
        const auto answer = shop.pat->post(
            path_of(job, "/edits"), {{"version", shop.bench->jobs.row(job)->version},
                                     {"edits", {{{"key", "depth.cleanup_margin"}, {"value", "0.03 mm"}}}}});
        EXPECT_EQ(answer.status, 200) << answer.text;
    }
};

void expect_says(const Json& answer, const std::string& words) {
    const auto said = answer.value("sentence", std::string());
    EXPECT_NE(said.find(words), std::string::npos) << answer.dump() << " does not say " << words;
}

TEST(PlacesOverHttp, AProgramArrivesAndIsOnRecord) {
    Mill mill;
    const std::string program = mill.shop.pat->get(path_of(mill.job, "/papers/" + mill.file)).text;
    const Json done = mill.send();
    EXPECT_EQ(done["state"], "finished") << done;
    EXPECT_EQ(mill.contents(mill.there()), program);
    const Json sent = mill.sent();
    ASSERT_EQ(sent["sent"].size(), 1u) << sent;
    const Json& one = sent["sent"][0];
    EXPECT_EQ(one["stands"], "right");
    EXPECT_EQ(one["may_run"], true);
    EXPECT_EQ(one["by"], "Pat");
    EXPECT_EQ(one["lines"][0]["became"], "arrived");
    EXPECT_TRUE(sent["old"].is_null());
    const std::string ledger = mill.shop.pat->get("/api/ledger").text;
    EXPECT_NE(ledger.find("sends program-6-A-1-first.ngc to 'stick'"), std::string::npos);
    EXPECT_NE(ledger.find("at 'stick': arrived"), std::string::npos);
    EXPECT_NE(mill.shop.pat->get("/api/places").json()["places"][0]["running"].size(), 0u);
}

TEST(PlacesOverHttp, AnOldProgramIsSaidAndStaysUntilAPersonSaysAWord) {
    Mill mill;
    ASSERT_EQ(mill.send()["state"], "finished");
    const std::string old = mill.contents(mill.there());
    mill.change_the_plan();
    Json sent = mill.sent();
    EXPECT_EQ(sent["old"], "The control holds an old program: stop, then take the new one.") << sent;
    EXPECT_EQ(sent["sent"][0]["stands"], "stale");
    expect_says(mill.send(), "may be running");
    EXPECT_EQ(
        mill.shop.pat->post("/api/places/" + std::to_string(mill.place) + "/clear", Json::object()).status,
        200);
    EXPECT_EQ(mill.contents(mill.there()), old) << "never touched without a word";
    sent = mill.say("stopped");
    EXPECT_TRUE(sent["old"].is_null()) << sent;
    EXPECT_EQ(mill.send()["state"], "finished");
    EXPECT_NE(mill.contents(mill.there()), old);
    sent = mill.sent();
    EXPECT_EQ(sent["sent"][0]["lines"].back()["became"], "removed");
    EXPECT_EQ(sent["sent"][1]["stands"], "right");
}

TEST(PlacesOverHttp, AFirstFileIsUsedUpByItsReadingNotStale) {
    Mill mill;
    ASSERT_EQ(mill.send()["state"], "finished");
    const Json list = mill.shop.pat->get(path_of(mill.job, "/results/cut?head=6")).json();
    std::string first;
    for (const auto& program : list["programs"])
        if (program["file"] == mill.file) first = program["seats"].back();
    ASSERT_FALSE(first.empty()) << list["programs"].dump();
    for (const auto& program : list["programs"])
        if (program["file"] == mill.file)
            for (const auto& seat : program["seats"]) {
                const auto answer = mill.shop.pat->post(
                    path_of(mill.job, "/entries"), {{"client_key", "first seat " + seat.get<std::string>()},
                                                    {"kind", "first"},
                                                    {"head", "6"},
                                                    {"valve", seat},
                                                    {"units", "mm"},
                                                    {"values", {{"depth", 0.2}}}});
                EXPECT_EQ(answer.status, 201) << answer.text;
            }
    const Json sent = mill.sent();
    EXPECT_EQ(sent["sent"][0]["stands"], "used up") << sent;
    EXPECT_TRUE(sent["old"].is_null());
}

// Sent ahead it is not with the machine: no word is asked, and what is old goes by itself.
TEST(PlacesOverHttp, SentAheadItIsTakenAwayWhenItIsOld) {
    Mill mill;
    EXPECT_EQ(mill.send({{"ahead", true}})["state"], "finished");
    Json one = mill.sent()["sent"][0];
    EXPECT_EQ(one["may_run"], false);
    EXPECT_EQ(one["words"], "It was sent ahead: send it when it is to be run.");
    mill.change_the_plan();
    one = mill.sent()["sent"][0];
    EXPECT_EQ(one["stands"], "stale");
    EXPECT_NE(one["words"].get<std::string>().find("taken away before"), std::string::npos) << one;
    EXPECT_TRUE(mill.sent()["old"].is_null()) << "nothing old may be running";
    EXPECT_EQ(mill.send()["state"], "finished") << "its own name is free for the new one";
    EXPECT_EQ(mill.contents(mill.there()),
              mill.shop.pat->get(path_of(mill.job, "/papers/" + mill.file)).text);
    EXPECT_EQ(mill.sent()["sent"].back()["may_run"], true);
    EXPECT_EQ(mill.send({{"ahead", true}})["state"], "finished") << "it stands there already";
    EXPECT_EQ(mill.sent()["sent"][1]["may_run"], true) << "sent ahead again it may still be running";
}

TEST(PlacesOverHttp, SomebodysOwnFileStopsTheSending) {
    Mill mill;
    std::ofstream(mill.there()) << "(somebody's own)\n";
    const Json done = mill.send();
    EXPECT_EQ(done["state"], "failed");
    expect_says(done, "is not a file the workbench sent");
    EXPECT_EQ(mill.contents(mill.there()), "(somebody's own)\n");
    EXPECT_EQ(mill.sent()["sent"][0]["lines"][0]["became"], "failed");
    EXPECT_EQ(mill.sent()["sent"][0]["may_run"], false);
    fs::remove_all(mill.stick.path());
    expect_says(mill.send(), "is not there");
}

TEST(PlacesOverHttp, ASendingCutOffIsFoundOutByTheNext) {
    Mill mill;
    // As a server killed between the folder and the record leaves it.
    const std::string program = mill.shop.pat->get(path_of(mill.job, "/papers/" + mill.file)).text;
    store::NewSending begun;
    begun.place = mill.place;
    begun.job = mill.job;
    begun.head = mill.head;
    begun.file = mill.file;
    begun.name = std::to_string(mill.job) + "-" + mill.file;
    begun.temporary = "sw0a0b0c.tmp";
    begun.bytes = program;
    begun.sha256 = sha256(program);
    const auto owner = *mill.shop.bench->people.named("Pat");
    mill.shop.bench->places.begin(owner, begun);
    std::ofstream(mill.stick.file("sw0a0b0c.tmp")) << program.substr(0, 50);
    EXPECT_EQ(mill.sent()["sent"][0]["may_run"], true) << "it may have arrived";
    EXPECT_EQ(mill.send()["state"], "finished");
    EXPECT_FALSE(fs::exists(mill.stick.file("sw0a0b0c.tmp")));
    EXPECT_EQ(mill.contents(mill.there()), program);
    EXPECT_EQ(mill.sent()["sent"][0]["lines"][0]["became"], "failed");
}

TEST(PlacesOverHttp, WhatCannotBeIsRefusedWithASentence) {
    Mill mill;
    const auto post = [&](const Json& body) { return mill.shop.pat->post("/api/places", body); };
    const Json good{{"machine", "m"}, {"name", "other"}, {"kind", "folder"}, {"path", mill.stick.path()}};
    const auto with = [&](const Json& more) {
        Json body = good;
        body.update(more);
        return post(body);
    };
    EXPECT_NE(with({{"path", "relative"}}).error().find("from the root"), std::string::npos);
    EXPECT_NE(with({{"path", "/nowhere at all"}}).error().find("no folder on the server"), std::string::npos);
    if (!store::on_server()) {  // whose data lie in no folder of this machine
        EXPECT_NE(with({{"path", mill.shop.folder.path()}}).error().find("own data"), std::string::npos);
    }
    EXPECT_NE(with({{"kind", "cloud"}}).error().find("folder or line"), std::string::npos);
    EXPECT_NE(with({{"kind", "line"}, {"device", "/etc/passwd"}}).error().find("/dev/ttyUSB0"),
              std::string::npos);
    EXPECT_NE(with({{"kind", "line"}, {"device", "/dev/ttyS0"}, {"baud", 9601}}).error().find("9601 baud"),
              std::string::npos);
    EXPECT_EQ(with({{"name", "stick"}}).status, 409);
    expect_says(mill.send({{"files", {"program-6-A-9.ngc"}}}), "not among the programs that may run");
    expect_says(mill.send({{"files", Json::array()}}), "which files");
    expect_says(mill.send({{"place", 99}}), "no such place");
    auto mia = mill.shop.person("Mia", "machinist");
    EXPECT_EQ(mia->post("/api/places", good).status, 403) << "a lead sets places up";
    auto ray = mill.shop.person("Ray", "reader");
    EXPECT_EQ(
        ray->post(path_of(mill.job, "/send"), {{"place", mill.place}, {"head", "6"}, {"files", {mill.file}}})
            .status,
        403);
}

TEST(PlacesOverHttp, OverALineItIsSentNotReadBackUntilTheControlSendsItOut) {
    place::Pty pty;
    Mill mill({{"kind", "line"}, {"device", pty.name()}});
    std::string memory;
    std::atomic<bool> over = false;
    std::thread control([&] {
        while (!over) memory += pty.hear(20);
    });
    const Json done = mill.send();
    std::this_thread::sleep_for(std::chrono::milliseconds(100));
    over = true;
    control.join();
    EXPECT_EQ(done["state"], "finished") << done;
    Json sent = mill.sent();
    EXPECT_NE(sent["sent"][0]["words"].get<std::string>().find("sent, not read back"), std::string::npos)
        << sent;
    expect_says(mill.send(), "may be running");
    expect_says(mill.send({{"ahead", true}}), "cannot be taken away from here");
    pty.say(memory);
    const auto started =
        mill.shop.pat->post("/api/sendings/" + sent["sent"][0]["id"].dump() + "/read_back", Json::object());
    ASSERT_EQ(started.status, 202) << started.text;
    EXPECT_EQ(mill.ended(started.json()["id"])["state"], "finished");
    EXPECT_EQ(mill.sent()["sent"][0]["lines"].back()["became"], "read back");
}

}  // namespace
}  // namespace seatwright::server
