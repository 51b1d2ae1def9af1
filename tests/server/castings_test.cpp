// Castings on the Shelf: made of a job, brought in as a file, taken by new jobs, taught by finished heads.
#include <gtest/gtest.h>

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <functional>
#include <thread>

#include "client.hpp"
#include "seatwright/store/castings.hpp"
#include "seatwright/store/photographs.hpp"
#include "seatwright/store/toml_json.hpp"

namespace seatwright::server {
namespace {

std::string without_readings(const std::string& text) {
    return text.substr(0, text.find("[[reading."));
}

std::string replaced(std::string text, const std::string& from, const std::string& to) {
    const auto at = text.find(from);
    if (at == std::string::npos) throw std::runtime_error("no " + from);
    return text.replace(at, from.size(), to);
}

struct Shelf {
    TestShop shop;
    std::string wedge = example_named("wedge")->text;

    Json castings() { return shop.pat->get("/api/castings").json()["castings"]; }
    Json one() { return castings().at(0); }
    // What finished heads teach is taken in behind the answers.
    Json once(const std::function<bool(const Json&)>& is) {
        Json now = one();
        for (int k = 0; k < 400 && !is(now); ++k) {
            std::this_thread::sleep_for(std::chrono::milliseconds(25));
            now = one();
        }
        EXPECT_TRUE(is(now)) << now;
        return now;
    }
    // As the store has it, without anybody asking for castings.
    store::CastingRow row() { return store::Castings(shop.bench->database).rows().at(0); }
    template <class Is>
    bool in_time(const Is& is) {
        for (int k = 0; k < 400; ++k) {
            if (is()) return true;
            std::this_thread::sleep_for(std::chrono::milliseconds(25));
        }
        return false;
    }
    long long of_text(const std::string& text) {
        const auto made = shop.pat->post("/api/jobs", {{"from", "text"}, {"text", text}});
        EXPECT_EQ(made.status, 201) << made.text;
        return made.json().value("id", 0LL);
    }
    Answered keep(long long job) { return shop.pat->post("/api/castings", {{"job", job}}); }
    std::string file() { return shop.pat->get("/api/castings/" + one()["id"].dump() + "/file").text; }
};

TEST(CastingsOnTheShelf, AJobsHeadIsKeptAndANewJobTakesItInOneRequest) {
    Shelf s;
    const auto kept = s.keep(s.of_text(without_readings(s.wedge)));
    ASSERT_EQ(kept.status, 201) << kept.text;
    const Json casting = kept.json();
    EXPECT_EQ(casting["valves"], 8);
    EXPECT_GT(casting["spacing_mm"].get<double>(), 50);
    EXPECT_EQ(casting["heads"], 0);
    EXPECT_TRUE(casting["fault"].is_null()) << casting["fault"];
    EXPECT_EQ(s.keep(1).status, 409) << "a name is one casting's";
    const auto made = s.shop.pat->post("/api/jobs", {{"from", "casting"}, {"casting", casting["name"]}});
    ASSERT_EQ(made.status, 201) << made.text;
    const Json state = s.shop.pat->get(path_of(made.json()["id"].get<long long>(), "/state")).json();
    ASSERT_FALSE(state["results"]["hold"].is_null()) << state["faults"];
    bool from = false;
    for (const auto& input : state["results"]["hold"]["inputs"]) from = from || input["from"] == "casting";
    EXPECT_TRUE(from) << "hold says where its figures come from";
    EXPECT_EQ(s.shop.pat->post("/api/jobs", {{"from", "casting"}, {"casting", "nobody's"}}).status, 404);
}

// Every head of which all seats were measured teaches, each once; a job with the casting begins with it.
TEST(CastingsOnTheShelf, FinishedHeadsTeach) {
    Shelf s;
    const Json casting = s.keep(s.of_text(without_readings(s.wedge))).json();
    const std::string line = "casting = \"" + casting["name"].get<std::string>() + "\"\n";
    // Of head 1 the stem heights before it was cut are known.
    std::string before;
    for (const char* valve : {"1E", "1I", "2E"})
        before +=
            fmt::format("\n[[reading.seat]]\nhead = \"1\"\nvalve = \"{}\"\nstem_height = 1.9005\n", valve);
    const long long batch = s.of_text(line + s.wedge + before);
    const Json taught = s.once([](const Json& c) { return c["heads"].get<int>() > 0; });
    EXPECT_TRUE(taught["offers"].empty()) << taught["offers"];
    const int version = taught["version"];
    // What worked stands with the job it worked in.
    ASSERT_FALSE(taught["worked"].empty()) << taught;
    for (const auto& w : taught["worked"]) {
        EXPECT_GT(w["seats"].get<double>(), 0) << w;
        EXPECT_GT(w["rpm"].get<double>(), 0) << w;
        EXPECT_FALSE(w["cutter"].is_null() || w["pilot"].is_null() || w["from"].is_null()) << w;
    }
    EXPECT_EQ(taught["depths"], 3);
    EXPECT_NEAR(taught["deepest_mm"].get<double>(), 0.22, 0.05);
    EXPECT_GE(taught["deepest_mm"].get<double>(), taught["depth_mm"].get<double>());
    EXPECT_NE(s.file().find("[[casting.past]]"), std::string::npos);
    // A head of another job that is not finished teaches nothing.
    const auto next =
        s.shop.pat->post("/api/jobs", {{"from", "casting"}, {"casting", casting["name"]}}).json();
    s.shop.pat->post(path_of(next["id"].get<long long>(), "/entries"), {{"client_key", "t"},
                                                                        {"kind", "touch"},
                                                                        {"head", "1"},
                                                                        {"valve", "1I"},
                                                                        {"units", "mm"},
                                                                        {"values", {{"x", 0}, {"y", 0}}}});
    // Behind it in the same queue: when this one is through the other was looked at.
    ASSERT_TRUE(s.in_time([&] {
        const auto by = store::Castings(s.shop.bench->database).taught_by(taught["id"].get<long long>());
        return std::any_of(by.begin(), by.end(), [&](const auto& t) { return t.job == next["id"]; });
    }));
    EXPECT_EQ(s.one()["heads"], taught["heads"]);
    EXPECT_EQ(s.one()["version"], version) << "nothing new, nothing learned";
    EXPECT_GT(batch, 0);
}

// Two batches of one casting are called alike and number their heads alike: both teach, each head once, and
// find counts a job's own heads once.
TEST(CastingsOnTheShelf, TwoJobsOfOneTitleBothTeach) {
    Shelf s;
    const Json casting = s.keep(s.of_text(without_readings(s.wedge))).json();
    const std::string line = "casting = \"" + casting["name"].get<std::string>() + "\"\n";
    const auto dof_of = [&](long long job) {
        const Json state = s.shop.pat->get(path_of(job, "/state")).json();
        return state["results"]["find"]["learned"].at(0)["dof"].get<double>();
    };
    const long long first = s.of_text(line + s.wedge);
    const int once = s.once([](const Json& c) { return c["heads"].get<int>() > 0; })["heads"];
    const double one = dof_of(first);
    const long long second = s.of_text(line + s.wedge);
    const Json both = s.once([&](const Json& c) { return c["heads"].get<int>() > once; });
    EXPECT_EQ(both["heads"], 2 * once);
    EXPECT_EQ(both["worked"].size(), 4u) << both["worked"];
    // Each reads the other's heads as past ones and its own as its own: with twice the heads about twice the
    // degrees of freedom, not three times.
    const double two = dof_of(second);
    EXPECT_NEAR(dof_of(first), two, 1e-6);
    EXPECT_GT(two, 1.8 * one);
    EXPECT_LT(two, 2.7 * one);
}

std::string blocks_of_head(const std::string& text, const std::string& head) {
    std::string out;
    for (std::size_t at = text.find("\n[[reading."); at != std::string::npos;) {
        const auto next = text.find("\n[[", at + 1);
        const auto block = text.substr(at, next == std::string::npos ? next : next - at);
        if (block.find("head = \"" + head + "\"") != std::string::npos) out += block;
        at = next;
    }
    return out;
}

std::string all_replaced(std::string text, const std::string& from, const std::string& to) {
    for (auto at = text.find(from); at != std::string::npos; at = text.find(from, at + to.size()))
        text.replace(at, from.size(), to);
    return text;
}

// A head teaches when its last seat is measured: nobody has to ask for castings, and a reading before that
// teaches nothing.
TEST(CastingsOnTheShelf, AHeadTeachesWhenItIsFinished) {
    Shelf s;
    const Json casting = s.keep(s.of_text(without_readings(s.wedge))).json();
    const std::string line = "casting = \"" + casting["name"].get<std::string>() + "\"\n";
    // Head 1 with all its readings but the last seat's.
    auto head = blocks_of_head(s.wedge, "1");
    const auto last = head.rfind("\n[[reading.proof]]");
    const Json proof = store::tables_of(head.substr(last))["reading"]["proof"][0];
    const long long job = s.of_text(line + without_readings(s.wedge) + head.substr(0, last) + "\n");
    ASSERT_TRUE(s.in_time([&] {
        const auto by = store::Castings(s.shop.bench->database).taught_by(s.row().id);
        return std::any_of(by.begin(), by.end(), [&](const auto& t) { return t.job == job; });
    }));
    EXPECT_EQ(s.row().version, 1) << "the head is not finished";
    Json values = proof;
    for (const char* key : {"head", "valve", "sure", "by"}) values.erase(key);
    const auto measured = s.shop.pat->post(path_of(job, "/entries"), {{"client_key", "last seat"},
                                                                      {"kind", "proof"},
                                                                      {"head", "1"},
                                                                      {"valve", proof["valve"]},
                                                                      {"units", "in"},
                                                                      {"values", values}});
    ASSERT_EQ(measured.status, 201) << measured.text;
    EXPECT_TRUE(s.in_time([&] { return s.row().version == 2; })) << "it teaches without being asked for";
    EXPECT_NE(s.row().text.find("[[casting.past]]"), std::string::npos);
    EXPECT_NE(s.row().what.find("taught by job"), std::string::npos) << s.row().what;
}

// A head of another mould is named with its job, and teaches nothing.
TEST(CastingsOnTheShelf, AHeadThatDoesNotBelongIsPointedOut) {
    Shelf s;
    const Json casting = s.keep(s.of_text(without_readings(s.wedge))).json();
    const std::string line = "casting = \"" + casting["name"].get<std::string>() + "\"\n";
    s.of_text(line + s.wedge);
    const Json before = s.once([](const Json& c) { return c["heads"].get<int>() > 0; });
    EXPECT_TRUE(before["strangers"].empty()) << before["strangers"];
    // Head 1 again as head 77, its guides a millimetre off, to and fro.
    auto head = all_replaced(blocks_of_head(s.wedge, "1"), "head = \"1\"", "head = \"77\"");
    int n = 0;
    for (auto at = head.find("\ny = "); at != std::string::npos; at = head.find("\ny = ", at + 1)) {
        const auto end = head.find('\n', at + 1);
        const double y = std::stod(head.substr(at + 5, end - at - 5));
        head.replace(at + 5, end - at - 5,
                     fmt::format("{:.4f}", y + (++n % 3 == 0 ? 0.04 : -0.03 * (n % 2))));
    }
    const long long other = s.of_text(line + without_readings(s.wedge) + head + "\n");
    const Json after = s.once([](const Json& c) { return !c["strangers"].empty(); });
    EXPECT_EQ(after["strangers"][0]["job"], other);
    EXPECT_NE(after["strangers"][0]["words"].get<std::string>().find("77"), std::string::npos)
        << after["strangers"];
    EXPECT_EQ(after["heads"], before["heads"]) << "it teaches nothing";
}

// Notes, photographs and the number cast on it stay while heads teach, and go with its file.
TEST(CastingsOnTheShelf, NotesAndPhotographsStayAndGoWithItsFile) {
    Shelf a, b;
    const Json casting = a.keep(a.of_text(without_readings(a.wedge))).json();
    const std::string path = "/api/castings/" + casting["id"].dump();
    const std::string jpeg = "/9j/4P/Z";
    const auto noted = [&](const Json& body, int status) {
        const auto answer = a.shop.pat->post(path + "/notes", body);
        EXPECT_EQ(answer.status, status) << answer.text;
        return answer;
    };
    noted({{"number", "4711-B"}}, 201);
    noted({{"words", "The rib beside cylinder 2 hits the \"tall\" post."}}, 201);
    const Json now = noted({{"words", "as it came"}, {"jpeg", jpeg}}, 201).json();
    EXPECT_EQ(now["number"], "4711-B");
    ASSERT_EQ(now["notes"].size(), 2u);
    EXPECT_EQ(now["notes"][0]["by"], "Pat");
    const std::string name = now["notes"][1]["photograph"];
    const auto bytes = a.shop.pat->get(path + "/photographs/" + name);
    EXPECT_EQ(bytes.status, 200);
    EXPECT_EQ(bytes.text, *store::bytes_of_base64(jpeg));
    EXPECT_EQ(a.shop.pat->get(path + "/photographs/" + std::string(64, '0')).status, 404);
    noted(Json::object(), 400);
    noted({{"jpeg", "no picture at all"}}, 400);
    const auto ray = a.shop.person("Ray", "reader");
    EXPECT_EQ(ray->post(path + "/notes", {{"words", "x"}}).status, 403);

    const std::string line = "casting = \"" + casting["name"].get<std::string>() + "\"\n";
    a.of_text(line + a.wedge);
    const Json taught = a.once([](const Json& c) { return c["heads"].get<int>() > 0; });
    EXPECT_EQ(taught["number"], "4711-B") << "what heads teach leaves what people said";
    EXPECT_EQ(taught["notes"], now["notes"]);

    const std::string file = a.file();
    const auto taken = b.shop.pat->post("/api/castings", {{"text", file}});
    ASSERT_EQ(taken.status, 201) << taken.text;
    EXPECT_EQ(taken.json()["notes"], now["notes"]);
    EXPECT_EQ(taken.json()["number"], "4711-B");
    const auto there = b.shop.pat->get("/api/castings/" + taken.json()["id"].dump() + "/photographs/" + name);
    EXPECT_EQ(there.text, *store::bytes_of_base64(jpeg));
    EXPECT_EQ(b.file(), file);
    const auto broken = b.shop.pat->post(
        "/api/castings",
        {{"text", replaced(replaced(file, jpeg, "bm8ganBlZw=="), casting["name"], "other")}});
    EXPECT_EQ(broken.status, 400) << broken.text;
}

// What a job says of its head otherwise is offered; a lead decides.
TEST(CastingsOnTheShelf, ALeadAcceptsWhatChangesTheDescription) {
    Shelf s;
    const Json casting = s.keep(s.of_text(without_readings(s.wedge))).json();
    const auto other =
        s.shop.pat->post("/api/jobs", {{"from", "casting"}, {"casting", casting["name"]}}).json();
    const auto edited =
        s.shop.pat->post(path_of(other["id"].get<long long>(), "/edits"),
                         {{"version", 1}, {"edits", {{{"key", "head.mass"}, {"value", "33.5 kg"}}}}});
    ASSERT_EQ(edited.status, 200) << edited.text;
    const Json offered = s.once([](const Json& c) { return !c["offers"].empty(); });
    ASSERT_EQ(offered["offers"].size(), 1u) << offered;
    EXPECT_NE(offered["offers"][0]["text"].get<std::string>().find("33.5"), std::string::npos);
    EXPECT_EQ(s.file().find("33.5"), std::string::npos) << "until a lead accepts it the description stays";
    const std::string path =
        "/api/castings/" + offered["id"].dump() + "/offers/" + offered["offers"][0]["id"].dump();
    const auto mia = s.shop.person("Mia", "machinist");
    EXPECT_EQ(mia->post(path, {{"accepted", true}}).status, 403);
    const auto accepted = s.shop.pat->post(path, {{"accepted", true}});
    ASSERT_EQ(accepted.status, 200) << accepted.text;
    EXPECT_NE(s.file().find("33.5"), std::string::npos);
    EXPECT_EQ(s.shop.pat->post(path, {{"accepted", true}}).status, 404) << "decided before";
    EXPECT_TRUE(s.one()["offers"].empty());
}

TEST(CastingsOnTheShelf, AFileGoesToAnotherShopAndComesBackWhole) {
    Shelf a, b;
    a.keep(a.of_text(a.wedge));
    const std::string file = a.file();
    const auto taken = b.shop.pat->post("/api/castings", {{"text", file}});
    ASSERT_EQ(taken.status, 201) << taken.text;
    EXPECT_EQ(b.file(), file);
    EXPECT_EQ(taken.json()["heads"], a.one()["heads"]);
    const auto refused = [&](const std::string& text, int status, const std::string& says) {
        const auto answer = b.shop.pat->post("/api/castings", {{"text", text}});
        EXPECT_EQ(answer.status, status) << answer.text;
        EXPECT_NE(answer.error().find(says), std::string::npos) << answer.error();
    };
    refused(file, 409, "known already");
    refused(replaced(file, "form = 1", "form = 2\nsomething_new = 4"), 400, "newer program");
    refused("a drawing", 400, "cannot be read");
    refused("units = \"mm\"\n[casting]\nform = 1\nname = \"empty\"\n", 400, "head: is missing");
    EXPECT_EQ(b.castings().size(), 1u);
}

// A job whose casting is not on the Shelf says so.
TEST(CastingsOnTheShelf, AJobOfACastingNobodyHasIsRefusedByName) {
    Shelf s;
    const auto made = s.shop.pat->post(
        "/api/jobs", {{"from", "text"}, {"text", "units = \"mm\"\ncasting = \"unknown\"\n"}});
    EXPECT_EQ(made.status, 400);
    EXPECT_NE(made.error().find("no casting of that name is on the Shelf"), std::string::npos)
        << made.error();
}

}  // namespace
}  // namespace seatwright::server
