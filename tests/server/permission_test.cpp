// Who may change a key of a job: the table of keys says so, in whatever way the file writes it.
#include <gtest/gtest.h>

#include "client.hpp"
#include "seatwright/job/key_tree.hpp"
#include "server/intake/permission.hpp"

namespace seatwright::server {
namespace {

store::Person someone(store::Role role) {
    store::Person person;
    person.name = "Mia";
    person.role = role;
    person.active = true;
    return person;
}

const store::TakenProgram taken{"program-7-A-1.ngc", std::string(64, 'a'), "Mia", 1'700'000'000'000};

// What a machinist is told of that change; empty if it may be made.
std::string told(const std::string& before, const std::string& after, bool file_taken = false) {
    return refusal_of_change(someone(store::Role::machinist), before, after,
                             file_taken ? std::optional(taken) : std::nullopt)
        .value_or("");
}

TEST(WhoMay, EveryKeySaysIt) {
    int leads = 0, machinists = 0, at_first = 0;
    for (const auto& key : job::all_keys()) {
        (key.who.hand() == job::Who::leads        ? leads
         : key.who.hand() == job::Who::machinists ? machinists
                                                  : at_first)++;
        if (key.limit && key.path != "seat.*.width") {
            EXPECT_EQ(key.who.hand(), job::Who::leads) << key.path << ": verdicts hang on a limit";
        }
    }
    EXPECT_GT(leads, 100);
    EXPECT_GT(machinists, 60);
    EXPECT_GT(at_first, 80);
    for (const char* limit :
         {"seat.intake.runout_max", "seat.exhaust.recession_min", "guide.intake.bore_max",
          "depth.stem_spread", "fixture[0].plumb_limit", "find.enter_target", "cut.trim_max"})
        EXPECT_TRUE(job::key_at(limit) != nullptr && job::key_at(limit)->limit) << limit;
}

TEST(WhoMay, ALimitIsOneHoweverTheFileWritesIt) {
    EXPECT_EQ(told("[fixture]\nplumb_limit = 0.1\n", "[fixture]\nplumb_limit = 0.4\n"),
              "fixture.plumb_limit is a limit: only a lead changes it");
    EXPECT_EQ(told("[[fixture]]\nname = \"a\"\nplumb_limit = 0.1\n",
                   "[[fixture]]\nname = \"a\"\nplumb_limit = 0.4\n"),
              "fixture[0].plumb_limit is a limit: only a lead changes it");
    EXPECT_NE(told("seat = {intake = {runout_max = 0.05}}\n", "seat.intake.runout_max = 0.5\n"), "");
    EXPECT_NE(told("seat.intake.runout_max = 0.5\n", ""), "") << "taking it out changes it too";
    EXPECT_NE(told("", "[[allow]]\nwhat = \"guide 1I\"\nwhy = \"x\"\nby = \"y\"\n"), "");
    EXPECT_NE(told("units = \"mm\"\n", "units = \"in\"\n"), "");
}

TEST(WhoMay, TheSameQuantityInAnotherUnitIsNoChange) {
    const std::string before = "units = \"in\"\n[seat.intake]\nrunout_max = 0.002\n";
    EXPECT_EQ(told(before, "units = \"in\"\n[seat.intake]\nrunout_max = \"0.0508 mm\"\n"), "");
    EXPECT_EQ(told(before, "units = \"in\"\n[seat.intake]\nrunout_max = \"2 thou\"\n"), "");
    EXPECT_NE(told(before, "units = \"in\"\n[seat.intake]\nrunout_max = \"2 mm\"\n"), "");
}

TEST(WhoMay, DrawingDataAreALeadsOnceAProgramWasTaken) {
    const std::string before = "[seat.intake]\nwidth = 1.5\n", after = "[seat.intake]\nwidth = 1.6\n";
    EXPECT_EQ(told(before, after), "");
    EXPECT_EQ(
        told(before, after, true),
        "seat.intake.width: since program-7-A-1.ngc was taken (Mia, 2023-11-14) only a lead changes what the "
        "head's programs are made from");
    EXPECT_EQ(told("", "[depth]\nzero_on = \"1E\"\n", true), "")
        << "work at the machine stays the machinist's";
    EXPECT_EQ(told("", "sure = [\"head.mass = 90 kg\"]\n", true), "");
    EXPECT_FALSE(refusal_of_change(someone(store::Role::lead), before, after, taken));
}

TEST(WhoMay, AProgramOnlyLookedAtHasNotLeft) {
    TestShop shop;
    const auto machinist = shop.person("Mia", "machinist");
    const long long job = shop.job("canted");
    const auto program_now = [&] {
        const auto list = machinist->get(path_of(job, "/papers")).json();
        for (const auto& paper : list["papers"])
            if (paper["name"].get<std::string>().starts_with("program-"))
                return paper["name"].get<std::string>();
        return std::string();
    };
    const std::string program = program_now();
    ASSERT_FALSE(program.empty());
    const auto widen = [&](double to) {
        const auto version = machinist->get(path_of(job)).json()["version"];
        return machinist->post(
            path_of(job, "/edits"),
            {{"version", version}, {"edits", {{{"key", "seat.intake.inset"}, {"value", to}}}}});
    };
    EXPECT_EQ(machinist->get(path_of(job, "/papers/" + program + "?look=1")).status, 200);
    EXPECT_TRUE(machinist->get(path_of(job)).json()["first_taken"].is_null());
    EXPECT_EQ(widen(0.49).status, 200);
    const std::string now = program_now();
    ASSERT_FALSE(now.empty());
    for (int again = 0; again < 2; ++again)
        EXPECT_EQ(machinist->get(path_of(job, "/papers/" + now + "")).status, 200);
    const auto first = machinist->get(path_of(job)).json()["first_taken"];
    ASSERT_TRUE(first.is_object());
    EXPECT_EQ(first["file"], now);
    EXPECT_EQ(first["by"], "Mia");
    const auto refused = widen(0.48);
    EXPECT_EQ(refused.status, 403);
    EXPECT_NE(refused.error().find("since " + now + " was taken"), std::string::npos) << refused.error();
    int lines = 0;
    const auto ledger = shop.pat->get("/api/ledger?job=" + std::to_string(job)).json();
    for (const auto& line : ledger["lines"])
        lines += line["what"].get<std::string>().starts_with("took " + now) ? 1 : 0;
    EXPECT_EQ(lines, 1) << "the same file taken twice is one line";
}

// A head of one valve, and a limit if given.
std::string job_with(const std::string& limit, const std::string& units = "mm") {
    return "units = \"" + units +
           "\"\n[head]\nname = \"h\"\n[[head.valve]]\nid = \"1I\"\ncylinder = 1\nkind = "
           "\"intake\"\nx = 1\ny = 0\nz = 0\n" +
           (limit.empty() ? "" : "[seat.intake]\nrunout_max = " + limit + "\n");
}

long long version_of(TestShop& shop, long long job) {
    return shop.pat->get(path_of(job)).json()["version"].get<long long>();
}

// What a change of one key on that version is answered.
int edited_on(Client& who, long long job, long long version, const std::string& key, const Json& value) {
    return who
        .post(path_of(job, "/edits"), {{"version", version}, {"edits", {{{"key", key}, {"value", value}}}}})
        .status;
}

TEST(WhoMay, NoLimitIsLoosenedByWhateverWay) {
    TestShop shop;
    const auto mia = shop.person("Mia", "machinist");
    const long long job =
        shop.pat->post("/api/jobs", {{"from", "text"}, {"text", job_with("0.05")}}).json()["id"];
    const auto version = [&] { return version_of(shop, job); };
    const auto edits = [&](Client& who, const std::string& key, const Json& value) {
        return edited_on(who, job, version(), key, value);
    };
    const auto text = [&](Client& who, const std::string& all) {
        return who.send("PUT", path_of(job), Json{{"version", version()}, {"text", all}}.dump()).status;
    };
    // Single keys: the figure, its unit, the whole table.
    EXPECT_EQ(edits(*mia, "seat.intake.runout_max", 0.5), 403);
    EXPECT_EQ(edits(*mia, "seat.intake.runout_max", "0.05 in"), 403);
    EXPECT_EQ(edits(*mia, "seat.intake.runout_max", nullptr), 403);
    EXPECT_EQ(edits(*mia, "units", "in"), 403) << "0.05 mm would become 1.27 mm";
    EXPECT_EQ(edits(*mia, "seat.intake.runout_max", "50 um"), 200) << "the same limit";
    // The whole text: the figure, the unit of all, and the unit of all with the figure as it was meant.
    EXPECT_EQ(text(*mia, job_with("0.5")), 403);
    EXPECT_EQ(text(*mia, job_with("0.05", "in")), 403);
    EXPECT_EQ(text(*mia, job_with("\"0.05 mm\"", "in")), 403) << "units themselves are a lead's";
    EXPECT_EQ(text(*mia, job_with("")), 403) << "left out";
    // Undo and redo of what a lead did.
    ASSERT_EQ(edits(*shop.pat, "seat.intake.runout_max", 0.02), 200);
    EXPECT_EQ(mia->post(path_of(job, "/undo"), {{"version", version()}}).status, 403);
    ASSERT_EQ(shop.pat->post(path_of(job, "/undo"), {{"version", version()}}).status, 200);
    EXPECT_EQ(mia->post(path_of(job, "/redo"), {{"version", version()}}).status, 403);
    // Fixtures in a list.
    ASSERT_EQ(text(*shop.pat, job_with("0.05") + "[[fixture]]\nname = \"a\"\nplumb_limit = 0.1\n"), 200);
    EXPECT_EQ(edits(*mia, "fixture[0].plumb_limit", 0.4), 403);
    EXPECT_EQ(text(*mia, job_with("0.05") + "[[fixture]]\nname = \"a\"\nplumb_limit = 0.4\n"), 403);
    EXPECT_EQ(text(*mia, job_with("0.05") + "[[fixture]]\nname = \"a\"\n"), 403) << "left out";
}

TEST(WhoMay, AnImportWithOtherLimitsSaysSoUntilALeadAcceptsThem) {
    TestShop shop;
    const auto mia = shop.person("Mia", "machinist");
    const auto bring = [&](Client& who, const Json& more) {
        Json body{{"from", "text"}, {"text", job_with("0.5")}};
        body.update(more);
        return who.post("/api/jobs", body).json();
    };
    EXPECT_TRUE(bring(*shop.pat, Json::object())["open_limits"].is_null()) << "a lead's word";
    const Json made = bring(*mia, Json::object());
    const long long job = made["id"];
    EXPECT_EQ(made["open_limits"], "seat.intake.runout_max");
    EXPECT_EQ(mia->post(path_of(job, "/limits"), Json::object()).status, 403);
    EXPECT_EQ(mia->get(path_of(job)).json()["open_limits"], "seat.intake.runout_max");
    EXPECT_EQ(shop.pat->post(path_of(job, "/limits"), Json::object()).status, 200);
    EXPECT_TRUE(mia->get(path_of(job)).json()["open_limits"].is_null());
    EXPECT_NE(
        shop.pat->get("/api/ledger?job=" + std::to_string(job)).text.find("accepted the job's own limits"),
        std::string::npos);
    // A shop file of one's own: what it loosens and what it leaves out.
    const std::string shelf = shop.pat->get("/api/shelf").json()["text"];
    ASSERT_NE(shelf.find("plumb_limit"), std::string::npos) << "the shop has limits";
    std::string loosened = shelf;
    loosened.replace(loosened.find("plumb_limit"), 11, "# plumb_limit");
    const std::string plain = job_with("");
    EXPECT_TRUE(bring(*mia, {{"text", plain}})["open_limits"].is_null());
    EXPECT_TRUE(bring(*mia, {{"text", plain}, {"shop_text", shelf}})["open_limits"].is_null());
    const Json own = bring(*mia, {{"text", plain}, {"shop_text", loosened}});
    EXPECT_NE(own["open_limits"].dump().find("plumb_limit"), std::string::npos) << own.dump().substr(0, 300);
    const long long example =
        mia->post("/api/jobs", {{"from", "example"}, {"example", "wedge"}}).json().value("id", 0LL);
    EXPECT_TRUE(mia->get(path_of(example)).json()["open_limits"].is_null()) << "the program's own";
}

// [dialect], cleanup_margin and what is allowed are a lead's, the head's mass and the mouths of its guides
// once a file was taken: by every way in.
TEST(WhoMay, WhatALeadSetsIsNotGoneRound) {
    const std::vector<std::pair<std::string, std::string>> changes{
        {"[dialect]\ntop = \"M6\"\n", "[dialect]\ntop = \"M7\"\n"},
        {"[depth]\ncleanup_margin = 0.05\n", "[depth]\ncleanup_margin = 0.9\n"},
        {"", "[[allow]]\nwhat = \"guide 1I\"\nwhy = \"x\"\nby = \"Pat\"\n"}};
    for (const auto& [before, after] : changes) EXPECT_NE(told(before, after), "") << after;
    for (const std::string key : {"[head]\nmass = ", "[guide.intake]\nmouth = "}) {
        EXPECT_EQ(told(key + "2\n", key + "9\n"), "") << key;
        EXPECT_NE(told(key + "2\n", key + "9\n", true), "") << key;
    }
    TestShop shop;
    const auto mia = shop.person("Mia", "machinist");
    const std::string odd = job_with("") + "[dialect]\ntop = \"M7\"\n[depth]\ncleanup_margin = 0.9\n" +
                            "[[allow]]\nwhat = \"guide 1I\"\nwhy = \"x\"\nby = \"Pat\"\n";
    const auto bring = [&](Client& who) {
        return who.post("/api/jobs", {{"from", "text"}, {"text", odd}}).json();
    };
    const Json made = bring(*mia);
    ASSERT_TRUE(made.contains("open_limits")) << made;
    EXPECT_EQ(made["open_limits"],
              "allow[0].by, allow[0].what, allow[0].why, depth.cleanup_margin and 1 more");
    EXPECT_TRUE(bring(*shop.pat)["open_limits"].is_null()) << "a lead's word";
    // An edit, a whole text, undo and redo of a job that is a lead's.
    const long long job =
        shop.pat->post("/api/jobs", {{"from", "text"}, {"text", job_with("")}}).json()["id"];
    const auto version = [&] { return version_of(shop, job); };
    const auto edits = [&](Client& who, const std::string& key, const Json& value) {
        return edited_on(who, job, version(), key, value);
    };
    EXPECT_EQ(edits(*mia, "dialect.top", "M7"), 403);
    EXPECT_EQ(edits(*mia, "depth.cleanup_margin", 0.9), 403);
    EXPECT_EQ(mia->send("PUT", path_of(job), Json{{"version", version()}, {"text", odd}}.dump()).status, 403);
    ASSERT_EQ(edits(*shop.pat, "dialect.top", "M7"), 200);
    EXPECT_EQ(mia->post(path_of(job, "/undo"), {{"version", version()}}).status, 403);
}

// A casting's forms bring limits into each job made of it.
TEST(WhoMay, ACastingBringsNoLimitsPastALead) {
    TestShop shop;
    const auto mia = shop.person("Mia", "machinist");
    const long long house = shop.job("wedge");
    const auto kept = mia->post("/api/castings", {{"job", house}});
    ASSERT_EQ(kept.status, 201) << kept.text;
    const std::string file = shop.pat->get("/api/castings/" + kept.json()["id"].dump() + "/file").text;
    const auto from_elsewhere = mia->post("/api/castings", {{"text", file}});
    EXPECT_EQ(from_elsewhere.status, 403);
    EXPECT_NE(from_elsewhere.error().find("a lead takes it in"), std::string::npos);
    // A job whose limits nobody has accepted does not become a casting, nor does a job change its casting.
    const Json open = mia->post("/api/jobs", {{"from", "text"}, {"text", job_with("0.5")}}).json();
    ASSERT_FALSE(open["open_limits"].is_null());
    EXPECT_EQ(mia->post("/api/castings", {{"job", open["id"]}}).status, 403);
    const auto name =
        mia->post(path_of(house, "/edits"),
                  {{"version", 1}, {"edits", {{{"key", "casting"}, {"value", kept.json()["name"]}}}}});
    EXPECT_EQ(name.status, 403) << name.text;
}

}  // namespace
}  // namespace seatwright::server
