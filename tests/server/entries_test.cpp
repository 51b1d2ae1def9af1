// Readings through the interface: stored once, corrected, chosen, told to everyone.
#include <gtest/gtest.h>

#include <atomic>

#include "client.hpp"

namespace seatwright::server {
namespace {

Json touch(const std::string& key, const std::string& valve, double x, double y) {
    return {{"client_key", key}, {"kind", "touch"}, {"head", "9"},
            {"valve", valve},    {"units", "in"},   {"values", {{"x", x}, {"y", y}}}};
}

TEST(Entries, ARetryIsAnsweredWithWhatWasStored) {
    TestShop shop;
    const long long job = shop.job();
    const auto first = shop.pat->post(path_of(job, "/entries"), touch("phone-00001", "1I", 1, 2));
    ASSERT_EQ(first.status, 201) << first.text;
    const auto again = shop.pat->post(path_of(job, "/entries"), touch("phone-00001", "1I", 1, 2));
    EXPECT_EQ(again.status, 200);
    EXPECT_EQ(again.json()["id"], first.json()["id"]);
    const auto other = shop.pat->post(path_of(job, "/entries"), touch("phone-00001", "1I", 1, 5));
    EXPECT_EQ(other.status, 409);
    EXPECT_EQ(other.json()["entry"]["id"], first.json()["id"]);
    EXPECT_EQ(first.json()["by"], "Pat");
    EXPECT_EQ(first.json()["place"], "touch/9/1I");
}

TEST(Entries, NobodyIsNamedForAnother) {
    TestShop shop;
    const long long job = shop.job();
    const auto mia = shop.person("Mia", "machinist");
    const auto proof = [](const std::string& key, Json values) -> Json {
        values["runout"] = 0.01;
        return {{"client_key", key}, {"kind", "proof"}, {"head", "1"},
                {"valve", "1I"},     {"units", "mm"},   {"values", std::move(values)}};
    };
    for (const std::string name : {"by", "accepted_by"}) {
        const auto answer = mia->post(path_of(job, "/entries"), proof("proof-0001", {{name, "Pat"}}));
        EXPECT_EQ(answer.status, 400) << answer.text;
        EXPECT_TRUE(answer.error().starts_with(name + " is who is logged in, Mia")) << answer.error();
    }
    EXPECT_EQ(mia->post(path_of(job, "/entries"), proof("import:0001", Json::object())).status, 400)
        << "what an imported file says is not judged by the login";
    const Json own{{"by", "Mia"}, {"accepted_by", "Mia"}, {"date", "1999-12-31"}};
    ASSERT_EQ(mia->post(path_of(job, "/entries"), proof("proof-0002", own)).status, 201);
    const std::string file = shop.pat->get(path_of(job, "/export")).text;
    EXPECT_NE(file.find("by = \"Mia\""), std::string::npos) << file;
    EXPECT_EQ(file.find("1999-12-31"), std::string::npos) << "the day is the server's";
}

// Who confirms a figure or lets a thing pass is who is logged in, whatever the page sends.
TEST(Entries, WhatIsConfirmedOrLetPassIsSignedByTheLogin) {
    TestShop shop;
    const long long job = shop.job();
    const auto mia = shop.person("Mia (days)", "machinist");
    const auto edit = [&](auto& client, int version, Json edits) {
        return client->post(path_of(job, "/edits"), {{"version", version}, {"edits", std::move(edits)}});
    };
    const Json first{
        {{"key", "sure"}, {"value", Json::array({"head.valve.1I.z = 0.35 in (Pat, 1999-01-01)"})}}};
    ASSERT_EQ(edit(mia, 1, first).status, 200);
    const std::string file = shop.pat->get(path_of(job, "/export")).text;
    EXPECT_NE(file.find("\"head.valve.1I.z = 0.35 in (Mia [days], 20"), std::string::npos) << file;
    EXPECT_EQ(file.find("1999"), std::string::npos);
    const auto there =
        Json::array({file.substr(file.find("head.valve.1I.z ="), 52), "seat.intake.width = 3 mm"});
    ASSERT_EQ(edit(shop.pat, 2, {{{"key", "sure"}, {"value", there}}}).status, 200);
    const Json pass{
        {{"key", "allow[0]"}, {"value", {{"what", "guide 1I"}, {"why", "a bush is in"}, {"by", "Mia"}}}}};
    ASSERT_EQ(edit(shop.pat, 3, pass).status, 200);
    const std::string after = shop.pat->get(path_of(job, "/export")).text;
    EXPECT_NE(after.find("0.35 in (Mia [days], 20"), std::string::npos) << after;
    EXPECT_NE(after.find("3 mm (Pat, 20"), std::string::npos) << after;
    EXPECT_EQ(after.find("by = \"Mia\""), std::string::npos) << after;
}

// Nor does a whole text, or a whole list, say it for somebody else.
TEST(Entries, ATextThatIsPutInPlaceIsSignedByTheLogin) {
    TestShop shop;
    const long long job = shop.job();
    const auto mia = shop.person("Mia", "machinist");
    const auto put = [&](Client& who, int version, const std::string& all) {
        return who.send("PUT", path_of(job), Json{{"version", version}, {"text", all}}.dump());
    };
    const std::string before = shop.pat->get(path_of(job)).json()["text"];
    ASSERT_FALSE(before.empty());
    const auto said = put(*mia, 1, "sure = [\"seat.intake.width = 3 mm (Pat, 1999-01-01)\"]\n" + before);
    ASSERT_EQ(said.status, 200) << said.text;
    std::string now = said.json()["text"];
    EXPECT_NE(now.find("3 mm (Mia, 20"), std::string::npos) << now.substr(0, 200);
    EXPECT_EQ(now.find("1999"), std::string::npos);
    // What stands already stays the word of who said it; what comes in beside it is the writer's.
    const std::string allow = "\n[[allow]]\nwhat = \"guide 1I\"\nwhy = \"a bush is in\"\nby = \"Mia\"\n";
    const auto passed = put(*shop.pat, 2, now + allow);
    ASSERT_EQ(passed.status, 200) << passed.text;
    now = passed.json()["text"];
    EXPECT_NE(now.find("3 mm (Mia, 20"), std::string::npos);
    EXPECT_NE(now.find("by = \"Pat\""), std::string::npos) << now.substr(now.size() - 200);
    const long long another = shop.job();
    const Json list = Json::array({{{"what", "guide 2I"}, {"why", "so it came"}, {"by", "Mia"}}});
    const auto edited = shop.pat->post(path_of(another, "/edits"),
                                       {{"version", 1}, {"edits", {{{"key", "allow"}, {"value", list}}}}});
    ASSERT_EQ(edited.status, 200) << edited.text;
    EXPECT_EQ(edited.json()["text"].get<std::string>().find("\"Mia\""), std::string::npos);
}

// A name stands once, so that it can be changed or erased: neither entries nor the Ledger's lines repeat it.
TEST(Entries, APersonsNameStandsOnce) {
    TestShop shop;
    const long long job = shop.job();
    const auto zoe = shop.person("Zoe Quill", "lead");
    const Json proof{{"client_key", "phone-00001"},
                     {"kind", "proof"},
                     {"head", "7"},
                     {"valve", "1I"},
                     {"units", "mm"},
                     {"values", {{"runout", 0.01}, {"by", "Zoe Quill"}, {"accepted_by", "Zoe Quill"}}}};
    const auto stored = zoe->post(path_of(job, "/entries"), proof);
    ASSERT_EQ(stored.status, 201) << stored.text;
    EXPECT_EQ(stored.json()["values"]["accepted_by"], "Zoe Quill");
    EXPECT_EQ(zoe->post(path_of(job, "/entries"), proof).status, 200) << "the same again";
    ASSERT_EQ(zoe->send("PUT", "/api/session/pin", Json{{"password", good_password}, {"pin", "2580"}}.dump())
                  .status,
              204);
    const auto id =
        shop.pat->get("/api/session").status == 200 ? shop.bench->people.named("Zoe Quill")->id : 0LL;
    const std::string path = "/api/people/" + std::to_string(id);
    ASSERT_EQ(shop.pat->send("PATCH", path, R"({"role":"machinist"})").status, 200);
    ASSERT_EQ(shop.pat->send("PATCH", path, R"({"name":"somebody who left"})").status, 200);
    int places = 0;
    shop.bench->database.read([&](store::Sql& sql) {
        sql << "select cast((select count(*) from ledger where what like '%Zoe%') + (select count(*) from "
               "entry "
               "where content like '%Zoe%') as bigint)",
            soci::into(places);
    });
    EXPECT_EQ(places, 0);
    const std::string ledger = shop.pat->get("/api/ledger").text;
    EXPECT_NE(ledger.find("made a lead somebody who left"), std::string::npos) << ledger;
    EXPECT_EQ(ledger.find("Zoe"), std::string::npos) << ledger;
    EXPECT_EQ(ledger.find("{person"), std::string::npos) << ledger;
    const std::string file = shop.pat->get(path_of(job, "/export")).text;
    EXPECT_NE(file.find("accepted_by = \"somebody who left\""), std::string::npos) << file;
}

// One reads the gauge, another types: both are named, each for what it did, on every paper; and who reads for
// whom is somebody of this shop, named by number, so that a name that changes changes there too.
TEST(Entries, WhoReadsForWhomIsAFieldOfItsOwn) {
    TestShop shop;
    const long long job = shop.job();
    const auto mia = shop.person("Mia", "machinist"), zoe = shop.person("Zoe", "reader");
    const auto send = [&](const std::string& key, const Json& reader) {
        Json body{{"client_key", key}, {"kind", "proof"}, {"head", "7"},
                  {"valve", "1I"},     {"units", "mm"},   {"values", {{"runout", 0.01}}}};
        if (!reader.is_null()) body["read_by"] = reader;
        return mia->post(path_of(job, "/entries"), body);
    };
    const auto stored = send("phone-00001", "Zoe");
    ASSERT_EQ(stored.status, 201) << stored.text;
    EXPECT_EQ(stored.json()["by"], "Mia");
    EXPECT_EQ(stored.json()["read_by"], "Zoe");
    EXPECT_EQ(send("phone-00001", "Zoe").status, 200) << "the same again";
    EXPECT_EQ(send("phone-00001", nullptr).status, 409) << "not the same";
    const auto file = [&] { return shop.pat->get(path_of(job, "/export")).text; };
    EXPECT_NE(file().find("by = \"Zoe (entered by Mia)\""), std::string::npos) << file();
    const auto proved = shop.pat->get(path_of(job, "/results/prove")).text;
    EXPECT_NE(proved.find("\"by\":\"Zoe (entered by Mia)\""), std::string::npos) << proved;
    for (const Json& nobody : {Json("Nemo"), Json(std::string(5000, 'x'))}) {
        const auto refused = send("phone-00002", nobody);
        EXPECT_EQ(refused.status, 400);
        EXPECT_NE(refused.text.find("nobody of that name"), std::string::npos) << refused.text;
    }
    const auto zoe_is = "/api/people/" + std::to_string(shop.bench->people.named("Zoe")->id);
    ASSERT_EQ(shop.pat->send("PATCH", zoe_is, R"({"name":"Zoe Quill"})").status, 200);
    EXPECT_NE(file().find("by = \"Zoe Quill (entered by Mia)\""), std::string::npos) << file();
    ASSERT_EQ(shop.pat->send("PATCH", zoe_is, R"({"active":false})").status, 200);
    EXPECT_EQ(send("phone-00003", "Zoe Quill").status, 400) << "nobody signs for who has left";
    const auto own = send("phone-00004", "Mia");
    ASSERT_EQ(own.status, 201) << own.text;
    EXPECT_TRUE(own.json()["read_by"].is_null()) << "who types and reads is one";
    const auto note = mia->post(path_of(job, "/entries"), {{"client_key", "phone-00005"},
                                                           {"kind", "note"},
                                                           {"read_by", "Pat"},
                                                           {"values", {{"words", "a burr"}}}});
    EXPECT_EQ(note.status, 400) << note.text;
    EXPECT_EQ(mia->get("/api/people/names").json()["names"], Json::array({"Mia", "Pat"}));
    EXPECT_EQ(zoe->get("/api/people/names").status, 401) << "has left";
}

// working.md "First seat": the second file is made from the reading; whoever works the machine enters it.
TEST(Entries, TheFirstSeatMeasuredGivesTheSecondFile) {
    TestShop shop;
    const long long job = shop.job();
    const auto programs = [&] { return shop.pat->get(path_of(job, "/results/cut")).json()["programs"]; };
    const auto before = programs();
    ASSERT_FALSE(before.empty());
    const Json first = before.front();
    ASSERT_TRUE(first["first"]) << first.dump();
    const auto mia = shop.person("Mia", "machinist");
    const Json measured{{"client_key", "phone-00001"}, {"kind", "first"}, {"head", first["head"]},
                        {"valve", first["seats"][0]},  {"units", "mm"},   {"values", {{"depth", "0.05 mm"}}}};
    const auto stored = mia->post(path_of(job, "/entries"), measured);
    ASSERT_EQ(stored.status, 201) << stored.text;
    bool second = false;
    for (const auto& program : programs()) {
        EXPECT_NE(program["file"], first["file"]) << "its first file is done with";
        if (program["setup"] == first["setup"] && program["cutter"] == first["cutter"]) {
            second = true;
            EXPECT_FALSE(program["first"]);
            EXPECT_GT(program["seats"].size(), 1u);
        }
    }
    EXPECT_TRUE(second);
    Json both = measured;
    both["client_key"] = "phone-00002";
    both["values"] = {{"depth", "0.05 mm"}, {"stem_height", "50 mm"}};
    EXPECT_EQ(mia->post(path_of(job, "/entries"), both).status, 400) << "one figure, not two";
    EXPECT_EQ(shop.person("Rea", "reader")->post(path_of(job, "/entries"), measured).status, 403);
}

TEST(Entries, NonsenseIsASentenceAndStoresNothing) {
    TestShop shop;
    const long long job = shop.job();
    const auto before = shop.pat->get(path_of(job, "/entries")).json()["sequence"];
    const auto refused = [&](Json entry) {
        const auto answer = shop.pat->post(path_of(job, "/entries"), entry);
        EXPECT_EQ(answer.status, 400) << entry.dump() << answer.text;
        EXPECT_FALSE(answer.error().empty());
    };
    refused(touch("phone-00001", "77X", 1, 2));
    refused(touch("short", "1I", 1, 2));
    auto e = touch("phone-00001", "1I", 1, 2);
    e["values"]["x"] = "about an inch";
    refused(e);
    e["values"] = {{"x = 1\n[head]\nname", 1}};
    refused(e);
    e["values"] = Json::object();
    refused(e);
    e["values"] = {{"x", 1}};
    refused(e);
    e = touch("phone-00001", "1I", 1, 2);
    e["kind"] = "guess";
    refused(e);
    e = touch("phone-00001", "1I", 1, 2);
    e.erase("units");
    refused(e);
    EXPECT_EQ(shop.pat->get(path_of(job, "/entries")).json()["sequence"], before);
}

TEST(Entries, TwoValuesForOnePlaceWaitForAChoice) {
    TestShop shop;
    const long long job = shop.job();
    const auto mia = shop.person("Mia", "machinist");
    const auto a = shop.pat->post(path_of(job, "/entries"), touch("phone-00001", "1I", 1, 2)).json();
    const auto b = mia->post(path_of(job, "/entries"), touch("phone-00002", "1I", 1, 2.5)).json();
    EXPECT_TRUE(b["conflict"]);
    auto entries = shop.pat->get(path_of(job, "/entries?head=9")).json();
    ASSERT_EQ(entries["conflicts"].size(), 1u);
    EXPECT_EQ(entries["conflicts"][0]["used"], a["id"]);
    EXPECT_EQ(shop.pat->get(path_of(job, "/state")).json()["stages"]["find"]["mark"], "needs you");
    const auto choice =
        mia->post(path_of(job, "/choices"),
                  {{"client_key", "phone-00003"}, {"chosen", b["id"]}, {"reason", "gauge slipped"}});
    ASSERT_EQ(choice.status, 201) << choice.text;
    entries = shop.pat->get(path_of(job, "/entries?head=9")).json();
    EXPECT_TRUE(entries["conflicts"].empty());
    EXPECT_FALSE(entries["entries"][0]["live"]);
    EXPECT_TRUE(entries["entries"][1]["live"]);
    EXPECT_EQ(entries["entries"].size(), 3u) << "nothing is erased";
}

TEST(Entries, ACorrectionAndAVerdictByWord) {
    TestShop shop;
    const long long job = shop.job();
    const auto first = shop.pat->post(path_of(job, "/entries"), touch("phone-00001", "1I", 1, 2)).json();
    auto correction = touch("phone-00002", "1I", 1, 3);
    correction["corrects"] = first["id"];
    EXPECT_EQ(shop.pat->post(path_of(job, "/entries"), correction).status, 201);
    EXPECT_TRUE(shop.pat->get(path_of(job, "/entries")).json()["conflicts"].empty());
    const Json verdict = {{"client_key", "phone-00003"},
                          {"head", "1"},
                          {"valve", "1I"},
                          {"what", "runout"},
                          {"verdict", "pass"},
                          {"reason", "measured again by hand"}};
    EXPECT_EQ(shop.person("Mia", "machinist")->post(path_of(job, "/overrides"), verdict).status, 403);
    EXPECT_EQ(shop.pat->post(path_of(job, "/overrides"), verdict).status, 201);
    Json silent = verdict;
    silent["client_key"] = "phone-00004";
    silent["reason"] = "";
    EXPECT_EQ(shop.pat->post(path_of(job, "/overrides"), silent).status, 400);
    EXPECT_EQ(shop.pat->get(path_of(job, "/state")).json()["overrides"].size(), 1u);
}

// Reads an event stream until `enough` says so or ten seconds have gone.
std::string listened(TestShop& shop, const std::string& path, const std::string& last_id,
                     const std::function<void()>& meanwhile, const std::string& until) {
    httplib::Client http("127.0.0.1", shop.server->port());
    http.set_read_timeout(10);
    std::string heard;
    std::atomic<bool> started{false};
    std::thread other([&] {
        for (int i = 0; i < 1000 && !started; ++i) std::this_thread::sleep_for(std::chrono::milliseconds(5));
        meanwhile();
    });
    httplib::Headers headers{{"Cookie", cookie_name(shop.server->port()) + "=" + shop.pat->cookie}};
    if (!last_id.empty()) headers.emplace("Last-Event-ID", last_id);
    http.Get(path, headers, [&](const char* data, std::size_t length) {
        started = true;
        heard.append(data, length);
        return heard.find(until) == std::string::npos;
    });
    other.join();
    return heard;
}

TEST(Events, EveryScreenHearsOfAnEntryAtOnceAndOfWhatItMissed) {
    TestShop shop;
    const long long job = shop.job();
    const auto record = [&](const std::string& key, double y) {
        return [&shop, job, key, y] {
            EXPECT_EQ(shop.pat->post(path_of(job, "/entries"), touch(key, "1I", 1, y)).status, 201);
        };
    };
    const std::string heard =
        listened(shop, path_of(job, "/events"), "", record("phone-00001", 2), "event: entry");
    ASSERT_NE(heard.find("event: entry"), std::string::npos) << heard;
    EXPECT_NE(heard.find("phone-00001"), std::string::npos) << heard;
    const auto at = heard.find("id: ");
    const std::string id = heard.substr(at + 4, heard.find('\n', at) - at - 4);
    record("phone-00002", 3)();
    const std::string missed = listened(
        shop, path_of(job, "/events"), id, [] {}, "phone-00002");
    EXPECT_NE(missed.find("phone-00002"), std::string::npos) << missed;
    const std::string lost = listened(
        shop, path_of(job, "/events"), "another-run-1", [] {}, "resync");
    EXPECT_NE(lost.find("event: resync"), std::string::npos) << lost;
    const std::string bench = listened(shop, "/api/events", "", record("phone-00003", 4), "event: job");
    EXPECT_NE(bench.find("event: job"), std::string::npos) << bench;
}

TEST(Events, TooManyListenersAreRefusedAndTheRestGoesOn) {
    TestShop shop(0);
    const long long job = shop.job();
    const auto refused = shop.pat->get(path_of(job, "/events"));
    EXPECT_EQ(refused.status, 503);
    EXPECT_FALSE(refused.error().empty());
    EXPECT_EQ(shop.pat->get(path_of(job)).status, 200);
}

TEST(Entries, AHeadCalled6Slash1IsNotHead6) {
    TestShop shop;
    const long long job = shop.job();
    const auto measured = [&](const std::string& key, const std::string& head, double runout) {
        const Json entry{{"client_key", key}, {"kind", "proof"}, {"head", head},
                         {"valve", "1I"},     {"units", "in"},   {"values", {{"runout", runout}}}};
        return shop.pat->post(path_of(job, "/entries"), entry).status;
    };
    EXPECT_EQ(measured("key-0001", "6", 0.0001), 201);
    EXPECT_EQ(measured("key-0002", "6/1", 0.0001), 201);
    EXPECT_EQ(measured("key-0003", "6/1", 0.0009), 201);
    const Json entries = shop.pat->get(path_of(job, "/entries")).json();
    ASSERT_EQ(entries["conflicts"].size(), 1u);
    EXPECT_EQ(entries["conflicts"][0]["head"], "6/1");
    const auto mark = [&](const std::string& head) {
        return shop.pat->get(path_of(job, "/state?head=" + head)).json()["stages"]["prove"]["mark"];
    };
    EXPECT_EQ(mark("6%2F1"), "needs you");
    EXPECT_NE(mark("6"), "needs you") << "the other head's two values are not its";
}

TEST(WhatIf, AnglesAndDepthsThatCannotBeAreRefused) {
    TestShop shop;
    const long long job = shop.job();
    for (const Json& body :
         {Json{{"attitude", {{"tilt_deg", 1e300}}}}, Json{{"attitude", {{"swing_deg", -181}}}},
          Json{{"depths", {{"1I", 1e300}}}}, Json{{"depths", {{"1I", "deep"}}}}}) {
        const auto answer = shop.pat->post(path_of(job, "/whatif"), body);
        EXPECT_EQ(answer.status, 400) << body;
        EXPECT_FALSE(answer.error().empty());
    }
    EXPECT_EQ(shop.pat->get(path_of(job, "/drawings/end.svg?tilt_deg=1e300")).status, 400);
    EXPECT_EQ(shop.pat->get(path_of(job, "/drawings/end.svg?tilt_deg=nan")).status, 400);
    EXPECT_EQ(shop.pat->post(path_of(job, "/whatif"), {{"attitude", {{"tilt_deg", 10}}}}).status, 200);
    const auto absurd =
        shop.pat->post(path_of(job, "/edits"),
                       {{"version", 1}, {"edits", {{{"key", "fixture.tilt"}, {"value", {-1e300, 1e300}}}}}});
    EXPECT_EQ(absurd.status, 400) << absurd.text.substr(0, 200);
}

// What was said last of a job as a template stands on its card.
TEST(Entries, AJobKeptAsATemplateSaysSoOnItsCard) {
    TestShop shop;
    const long long job = shop.job();
    const auto card = [&] { return shop.pat->get("/api/jobs").json()["jobs"][0]; };
    const auto say = [&](const std::string& key, Json values) {
        const Json body{{"client_key", key},
                        {"kind", "note"},
                        {"head", "1"},
                        {"valve", ""},
                        {"values", std::move(values)}};
        EXPECT_EQ(shop.pat->post(path_of(job, "/entries"), body).status, 201);
    };
    EXPECT_EQ(card()["template"], nullptr);
    say("template-1", {{"template", "row heads"}, {"version", 1}});
    EXPECT_EQ(card()["template"], (Json{{"name", "row heads"}, {"version", 1}}));
    say("template-2", {{"template", ""}});
    EXPECT_EQ(card()["template"], nullptr);
}

}  // namespace
}  // namespace seatwright::server
