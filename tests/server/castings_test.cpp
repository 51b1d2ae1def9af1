// Castings on the Shelf: made of a job, brought in as a file, taken by new jobs, taught by finished heads.
#include <gtest/gtest.h>

#include "client.hpp"
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
    const long long batch = s.of_text(line + s.wedge);
    const Json taught = s.one();
    EXPECT_GT(taught["heads"].get<int>(), 0) << taught;
    EXPECT_TRUE(taught["offers"].empty()) << taught["offers"];
    const int version = taught["version"];
    EXPECT_EQ(s.one()["version"], version) << "nothing new, nothing learned";
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
    EXPECT_EQ(s.one()["heads"], taught["heads"]);
    EXPECT_GT(batch, 0);
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
    const Json offered = s.one();
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
