// Jobs in and out, their history, the shelf and the ledger.
#include <gtest/gtest.h>

#include <fstream>
#include <iterator>

#include "client.hpp"
#include "places.hpp"
#include "seatwright/store/photographs.hpp"

namespace seatwright::server {
namespace {

TEST(Jobs, AFileGoesInAndComesOutWithoutLoss) {
    TestShop shop;
    for (const auto& example : examples()) {
        const auto made = shop.pat->post(
            "/api/jobs",
            {{"from", "text"}, {"text", example.text}, {"shop_text", default_shop()}, {"file", "mine.toml"}});
        ASSERT_EQ(made.status, 201) << made.text.substr(0, 300);
        const long long job = made.json()["id"];
        EXPECT_EQ(made.json()["shop"], "own");
        EXPECT_EQ(shop.pat->get(path_of(job, "/original")).text, example.text) << "byte for byte";
        const auto out = shop.pat->get(path_of(job, "/export")).text;
        const auto again = shop.pat->post("/api/jobs", {{"from", "text"}, {"text", out}});
        ASSERT_EQ(again.status, 201) << again.text.substr(0, 300);
        const long long twin = again.json()["id"];
        EXPECT_EQ(shop.pat->get(path_of(twin, "/export")).text, out);
        for (const std::string stage : {"hold", "find", "shape", "cut", "prove"})
            EXPECT_EQ(shop.pat->get(path_of(twin, "/results/" + stage)).text,
                      shop.pat->get(path_of(job, "/results/" + stage)).text)
                << stage;
    }
}

TEST(Jobs, AFaultyFileIsRefusedWithEveryFault) {
    TestShop shop;
    const auto refused = shop.pat->post(
        "/api/jobs",
        {{"from", "text"}, {"text", "units = \"mm\"\nnonsense = 1\nmore = 2\n"}, {"file", "bad.toml"}});
    EXPECT_EQ(refused.status, 400);
    EXPECT_GE(refused.json()["faults"].size(), 2u) << refused.text;
    EXPECT_EQ(refused.json()["faults"][0]["file"], "bad.toml");
    EXPECT_TRUE(shop.pat->get("/api/jobs").json()["jobs"].empty());
    EXPECT_EQ(shop.pat->post("/api/jobs", {{"from", "example"}, {"example", "none"}}).status, 404);
    EXPECT_EQ(shop.pat->post("/api/jobs", {{"from", "nowhere"}}).status, 400);
}

// The shelf's machine and fixture hold it; what a view of the deck does not show is asked for, in words that
// name no option of the command line.
TEST(Jobs, ADrawingMakesAJobThatAsksForTheRest) {
    TestShop shop;
    std::ifstream file(std::string(places::root) + "/examples/drawing/deck.dxf", std::ios::binary);
    const std::string dxf{std::istreambuf_iterator<char>(file), {}};
    ASSERT_FALSE(dxf.empty());
    Json asked = {{"from", "drawing"}, {"file", "deck.dxf"}, {"dxf", store::base64_of(dxf)}};
    const auto made = shop.pat->post("/api/jobs", asked);
    ASSERT_EQ(made.status, 201) << made.text.substr(0, 300);
    const long long job = made.json()["id"];
    EXPECT_EQ(made.json()["shop"], "shelf");
    const auto text = shop.pat->get(path_of(job, "/export")).text;
    EXPECT_NE(text.find("assumed = ["), std::string::npos);
    EXPECT_EQ(text.find("--"), std::string::npos) << text.substr(text.find("--"), 100);
    const auto hold = shop.pat->get(path_of(job, "/results/hold")).json();
    EXPECT_FALSE(hold["setups"].empty()) << hold.dump().substr(0, 400);
    asked["end_for_end"] = true;
    const auto turned = shop.pat->post("/api/jobs", asked).json();
    EXPECT_NE(shop.pat->get(path_of(turned["id"], "/export")).text, text);
    asked["dxf"] = store::base64_of("hello");
    const auto refused = shop.pat->post("/api/jobs", asked);
    EXPECT_EQ(refused.status, 422);
    EXPECT_NE(refused.error().find("deck.dxf is not a DXF drawing"), std::string::npos) << refused.error();
    asked["dxf"] = "no base64 !";
    EXPECT_EQ(shop.pat->post("/api/jobs", asked).status, 400);
}

TEST(Jobs, SixAnswersMakeAJobThatHolds) {
    TestShop shop;
    Json answers = {{"units", "in"}, {"cylinders", 4}};
    EXPECT_EQ(shop.pat->post("/api/preview", answers).status, 400) << "the spacing is still to come";
    answers["bore_spacing"] = 4.4;
    answers["valves"] = {{"intake", 1}, {"exhaust", 1}};
    answers["angles"] = {{"intake", {{"incline", 20}}}, {"exhaust", {{"incline", 20}}}};
    answers["sizes"] = {{"intake", {{"head_diameter", 1.75}, {"seat_width", 0.06}}},
                        {"exhaust", {{"head_diameter", 1.5}}}};
    const auto preview = shop.pat->post("/api/preview", answers).json();
    EXPECT_TRUE(preview["faults"].empty()) << preview["faults"].dump();
    EXPECT_TRUE(preview["svg"].is_string());
    const auto made = shop.pat->post("/api/jobs", {{"from", "answers"}, {"answers", answers}});
    ASSERT_EQ(made.status, 201) << made.text.substr(0, 300);
    const long long job = made.json()["id"];
    EXPECT_EQ(made.json()["valves"], 8);
    const auto hold = shop.pat->get(path_of(job, "/results/hold")).json();
    ASSERT_EQ(hold["setups"].size(), 1u);
    // tan tilt = tan incline · cos cant, cant 0 (compound-angle rule).
    EXPECT_NEAR(hold["setups"][0]["tilt_deg"].get<double>(), 20, 1e-9);
    EXPECT_EQ(shop.pat->get(path_of(job, "/original")).status, 404);
    answers["valves"] = {{"intake", 4}, {"exhaust", 1}};
    EXPECT_EQ(shop.pat->post("/api/preview", answers).status, 400);
}

TEST(Jobs, ALargeFileIsATaskWithProgress) {
    TestShop shop;
    std::string text =
        "title = \"large\"\nunits = \"mm\"\n[head]\nname = \"h\"\n[[head.valve]]\nid = \"1I\"\ncylinder = "
        "1\nkind = \"intake\"\nx = 0\ny = 0\nz = 0\n";
    for (int i = 0; i < 6000; ++i)
        text += "[[reading.touch]]\nhead = \"" + std::to_string(i) + "\"\nvalve = \"1I\"\nx = 0.1\ny = 0.2\n";
    ASSERT_GT(text.size(), 256u << 10);
    const auto started = shop.pat->post("/api/jobs", {{"from", "text"}, {"text", text}});
    ASSERT_EQ(started.status, 202) << started.text.substr(0, 300);
    const std::string task = "/api/tasks/" + started.json()["id"].get<std::string>();
    Json state;
    for (int i = 0; i < 2000; ++i) {
        state = shop.pat->get(task).json();
        if (state["state"] != "running") break;
        std::this_thread::sleep_for(std::chrono::milliseconds(10));
    }
    EXPECT_EQ(state["state"], "finished") << state.dump();
    EXPECT_EQ(shop.pat->get(path_of(state["job"].get<long long>())).json()["sequence"], 6000);
    EXPECT_EQ(shop.person("Mia", "machinist")->get(task).status, 404) << "somebody else's";
    const auto second = shop.pat->post("/api/jobs", {{"from", "text"}, {"text", text}}).json();
    const auto cancelled = shop.pat->send("DELETE", "/api/tasks/" + second["id"].get<std::string>());
    EXPECT_EQ(cancelled.status, 200);
}

TEST(Jobs, HistoryUndoAndThePutAway) {
    TestShop shop;
    const long long job = shop.job();
    const auto before = shop.pat->get(path_of(job)).json();
    ASSERT_EQ(
        shop.pat
            ->post(path_of(job, "/edits"), {{"version", 1}, {"edits", {{{"key", "title"}, {"value", "x"}}}}})
            .status,
        200);
    const auto undone = shop.pat->post(path_of(job, "/undo"), {{"version", 2}}).json();
    EXPECT_EQ(undone["text"], before["text"]);
    EXPECT_EQ(undone["redo_to"], 2);
    EXPECT_EQ(shop.pat->post(path_of(job, "/redo"), {{"version", 3}}).json()["title"], "x");
    const auto versions = shop.pat->get(path_of(job, "/versions")).json()["versions"];
    ASSERT_EQ(versions.size(), 4u);
    EXPECT_EQ(versions[2]["what"], "set title to x");
    EXPECT_EQ(shop.pat->get(path_of(job, "/versions/1")).json()["text"], before["text"]);
    const auto text = before["text"].get<std::string>();
    EXPECT_EQ(shop.pat
                  ->send("PUT", path_of(job),
                         Json{{"version", 4},
                              {"text", text + "\n[[reading.touch]]\nvalve = \"1I\"\nx = 0\ny = 0\n"}}
                             .dump())
                  .status,
              400);
    EXPECT_EQ(
        shop.pat->send("PUT", path_of(job), Json{{"version", 4}, {"text", text + "\nwrong"}}.dump()).status,
        400);
    EXPECT_EQ(
        shop.pat->send("PUT", path_of(job), Json{{"version", 4}, {"text", text + "\n# a note\n"}}.dump())
            .status,
        200);
    EXPECT_EQ(shop.pat->send("PATCH", path_of(job), R"({"archived": true})").status, 200);
    EXPECT_TRUE(shop.pat->get("/api/jobs").json()["jobs"].empty());
    EXPECT_EQ(shop.pat->get("/api/jobs?archived=yes").json()["jobs"].size(), 1u);
    EXPECT_EQ(shop.pat->get(path_of(999)).status, 404);
}

TEST(Shop, TheShelfIsCheckedVersionedAndInTheLedger) {
    TestShop shop;
    const auto shelf = shop.pat->get("/api/shelf").json();
    EXPECT_EQ(shelf["version"], 1);
    const auto bad = shop.pat->send(
        "PUT", "/api/shelf", Json{{"version", 1}, {"text", "[[pilot]]\nname = 3\nlength = 1\n"}}.dump());
    EXPECT_EQ(bad.status, 400);
    EXPECT_FALSE(bad.json()["faults"].empty());
    const std::size_t pilots = shelf["tables"]["pilot"].size();
    const Json pilot = {{"name", "a new one"}, {"style", "live"}, {"diameter", 7.98}, {"tip", 6}};
    const auto more = shop.pat->post(
        "/api/shelf/edits",
        {{"version", 1}, {"edits", {{{"key", "pilot[" + std::to_string(pilots) + "]"}, {"value", pilot}}}}});
    ASSERT_EQ(more.status, 200) << more.text.substr(0, 300);
    EXPECT_EQ(more.json()["tables"]["pilot"].size(), pilots + 1);
    EXPECT_EQ(
        shop.pat->send("PUT", "/api/shelf", Json{{"version", 1}, {"text", shelf["text"]}}.dump()).status,
        409);
    const auto ledger = shop.pat->get("/api/ledger?limit=2").json();
    ASSERT_EQ(ledger["lines"].size(), 2u);
    EXPECT_EQ(ledger["lines"][0]["by"], "Pat");
    EXPECT_TRUE(ledger["before"].is_number());
    EXPECT_EQ(shop.pat->get("/api/ledger?limit=x").status, 400);
}

}  // namespace
}  // namespace seatwright::server
