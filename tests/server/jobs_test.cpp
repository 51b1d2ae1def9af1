// Jobs in and out, their history, the shelf and the ledger.
#include <gtest/gtest.h>

#include <fmt/format.h>

#include <fstream>
#include <iterator>
#include <tuple>

#include "client.hpp"
#include "places.hpp"
#include "seatwright/job/key_tree.hpp"
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

// The ends of what each question takes, as the table of keys has them: one beyond is refused, in either unit.
TEST(Jobs, TheSixQuestionsTakeWhatTheTableOfKeysSays) {
    TestShop shop;
    const std::vector<std::tuple<std::string, std::string, double, double, bool>> questions{
        {"/cylinders", "head.pattern.cylinders", 1, 16, false},
        {"/bore_spacing", "head.pattern.bore_spacing", 20, 2000, true},
        {"/sizes/intake/head_diameter", "valve.*.head_diameter", 3, 500, true},
        {"/sizes/exhaust/stem_diameter", "valve.*.stem_diameter", 2, 40, true},
        {"/sizes/intake/seat_angle", "seat.*.angle", 16, 64, false},
        {"/sizes/exhaust/seat_width", "seat.*.width", 0.1, 20, true},
        {"/angles/intake/incline", "head.pattern.valve[].incline", -79, 79, false},
        {"/angles/exhaust/cant", "head.pattern.valve[].cant", -79, 79, false}};
    for (const char* units : {"mm", "in"}) {
        const double mm = std::string(units) == "in" ? 25.4 : 1;
        const auto answered = [&](const std::string& question, double value) {
            Json answers{{"units", units}, {"cylinders", 4}, {"bore_spacing", 100 / mm}};
            answers[Json::json_pointer(question)] = value;
            return shop.pat->post("/api/preview", answers);
        };
        for (const auto& [question, key, low, high, length] : questions) {
            const auto& taken = job::key_at(key)->new_head;
            EXPECT_EQ(std::pair(taken.low, taken.high), std::pair(low, high)) << key;
            const double unit = length ? mm : 1, beyond = question == "/cylinders" ? 1 : 1e-3;
            EXPECT_EQ(answered(question, low / unit).status, 200) << question;
            EXPECT_EQ(answered(question, high / unit).status, 200) << question;
            for (const double wrong : {low / unit - beyond, high / unit + beyond}) {
                const auto refused = answered(question, wrong);
                EXPECT_EQ(refused.status, 400) << question << " " << wrong;
                EXPECT_NE(refused.error().find("is a number from"), std::string::npos) << refused.error();
            }
        }
    }
}

// Said to be right with the answers: the job does not ask again, and says whose word it is.
TEST(Jobs, ASizeSaidToBeRightIsNotAskedAboutOnceMore) {
    TestShop shop;
    for (const std::string units : {"mm", "in"}) {
        const double mm = units == "mm" ? 1 : 25.4, head = units == "mm" ? 8.5 : 0.335;
        Json answers{
            {"units", units},
            {"cylinders", 4},
            {"bore_spacing", 100 / mm},
            {"sizes", {{"intake", {{"head_diameter", head}}}, {"exhaust", {{"head_diameter", 36 / mm}}}}}};
        const auto made = [&] {
            return shop.pat->post("/api/jobs", {{"from", "answers"}, {"answers", answers}});
        };
        const auto asks = [&](long long job) {
            const auto said = shop.pat->get(path_of(job, "/results/hold")).text;
            return said.find("valve.intake.head_diameter = " + fmt::format("{} {}", head, units)) !=
                   std::string::npos;
        };
        const long long before = made().json()["id"];
        EXPECT_TRUE(asks(before)) << "nobody said that it is right";
        answers["sure"] = {{{"key", "valve.intake.head_diameter"}, {"value", head}}};
        EXPECT_EQ(shop.pat->post("/api/preview", answers).status, 200);
        const auto right = made();
        ASSERT_EQ(right.status, 201) << right.text;
        EXPECT_FALSE(asks(right.json()["id"]));
        const auto text = shop.pat->get(path_of(right.json()["id"].get<long long>(), "/export")).text;
        const auto sure =
            fmt::format("sure = [\"valve.intake.head_diameter = {} {} ({}, ", head, units,
                        shop.pat->get("/api/session").json()["person"]["name"].get<std::string>());
        EXPECT_NE(text.find(sure), std::string::npos) << sure << "\n" << text.substr(0, 600);
    }
}

TEST(Jobs, OnlyWhatTheJobAsksAboutCanBeSaidToBeRight) {
    TestShop shop;
    Json answers{{"units", "mm"},
                 {"cylinders", 4},
                 {"bore_spacing", 100},
                 {"sizes", {{"intake", {{"head_diameter", 8.5}}}, {"exhaust", {{"head_diameter", 36}}}}}};
    const auto refused = [&](const Json& sure) {
        answers["sure"] = sure;
        const auto answer = shop.pat->post("/api/jobs", {{"from", "answers"}, {"answers", answers}});
        EXPECT_EQ(answer.status, 400) << answer.text;
        return answer.error();
    };
    const std::string none =
        " was said to be right, but the job made of these answers asks about no such figure";
    EXPECT_NE(refused({{{"key", "valve.intake.head_diameter"}, {"value", 9.5}}})
                  .find("valve.intake.head_diameter = 9.5 mm" + none),
              std::string::npos);
    EXPECT_NE(refused({{{"key", "valve.exhaust.head_diameter"}, {"value", 36}}}).find(none),
              std::string::npos);
    EXPECT_NE(refused({{{"key", "machine.\"x"}, {"value", 1}}}).find(none), std::string::npos);
    for (const Json& sure : {Json("all"), Json({1}), Json({{{"key", 1}, {"value", 1}}}),
                             Json({{{"key", "seat.intake.width"}, {"value", "1"}}}),
                             Json(std::vector<Json>(100, {{"key", "x"}, {"value", 1}}))})
        EXPECT_EQ(refused(sure), "sure is a list of {key, value}, a value a number");
    EXPECT_TRUE(shop.pat->get("/api/jobs").json()["jobs"].empty()) << "nothing was made";
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
