// What the stages give, through the interface: the command line's own JSON, drawings, what-ifs, papers.
#include <gtest/gtest.h>

#include "client.hpp"
#include "draws.hpp"
#include "seatwright/report/report.hpp"
#include "server/answers/drawings.hpp"
#include "server/intake/edits.hpp"

namespace seatwright::server {
namespace {

TEST(Results, AreTheSameJsonAsThePipelineCalledDirectly) {
    TestShop shop;
    int compared = 0;
    for (const auto& example : examples()) {
        const long long job = shop.job(example.name);
        ASSERT_GT(job, 0) << example.name;
        const auto read = read_with_shop(example.text, default_shop());
        ASSERT_TRUE(read);
        const auto hold = hold::plan(*read);
        Notices upto = hold;
        upto.assumptions.insert(upto.assumptions.begin(), read->assumptions.begin(), read->assumptions.end());
        Json expected = report::json_frame(*read, upto);
        expected.update(report::json_of(*read, hold));
        EXPECT_EQ(shop.pat->get(path_of(job, "/results/hold")).json(), expected) << example.name;
        const auto whole = plan::make_plan(*read);
        Json cut = report::json_frame(*read, whole.notices());
        cut.update(report::json_of(*read, whole.cut));
        EXPECT_EQ(shop.pat->get(path_of(job, "/results/cut")).json(), cut) << example.name;
        const auto proof = prove::judge(*read);
        Json proved = report::json_frame(*read, proof);
        proved.update(report::json_of(*read, proof));
        // Entries come back in the order of the file, so the proofs are judged alike.
        EXPECT_EQ(shop.pat->get(path_of(job, "/results/prove")).json(), proved) << example.name;
        ++compared;
    }
    EXPECT_GE(compared, 3);
}

TEST(Results, TheLevelIsThatOfTheHeadAskedFor) {
    std::string text = example_named("wedge")->text;
    for (const std::string head : {"L1", "L2"})
        text += "\n[[reading.level]]\nhead = \"" + head +
                "\"\nvalve = \"1I\"\nfirst = " + (head == "L1" ? "0.1" : "0.3") + "\nsecond = 0\n";
    StageCache cache;
    for (const std::string head : {"", "L1", "L2", "L1"}) {
        auto job = read_with_shop(text, default_shop());
        ASSERT_TRUE(job);
        Computation computation(*job, head, &cache);
        for (const auto stage : {job::Stage::hold, job::Stage::find}) computation.json(stage);
        EXPECT_EQ(Json::parse(computation.json(job::Stage::hold))["level"]["head"],
                  head.empty() ? "L2" : head);
        EXPECT_NE(computation.json(job::Stage::find).find(head == "L1" ? "L1 (as asked)" : "L2 ("),
                  std::string::npos)
            << head;
    }
}

TEST(Results, TheStateHoldsEverythingAndFollowsEveryChange) {
    TestShop shop;
    const long long job = shop.job();
    const auto state = shop.pat->get(path_of(job, "/state?units=in")).json();
    const auto read = read_with_shop(shop.pat->get(path_of(job, "/export")).text, default_shop());
    ASSERT_TRUE(read);
    Computation anew(*read, "");
    for (const std::string stage : {"hold", "find", "shape", "cut", "prove"}) {
        EXPECT_EQ(state["results"][stage],
                  Json::parse(anew.page_json(job::stage_named(stage), LengthUnit::inch)))
            << stage;
        EXPECT_FALSE(state["stages"][stage]["line"].get<std::string>().empty());
    }
    EXPECT_NE(state["stages"]["hold"]["line"].get<std::string>().find(" in"), std::string::npos);
    EXPECT_NE(shop.pat->get(path_of(job, "/state?units=mm"))
                  .json()["stages"]["hold"]["line"]
                  .get<std::string>()
                  .find(" mm"),
              std::string::npos);
    // The page's unit is that of every sentence; figures are the same.
    const auto metric = shop.pat->get(path_of(job, "/state?units=mm")).json();
    EXPECT_EQ(metric["results"]["cut"]["seats"], state["results"]["cut"]["seats"]);
    const auto assumed = [](const Json& of) { return of["results"]["cut"]["assumptions"].dump(); };
    EXPECT_NE(assumed(metric).find("within 30.0 mm of the path"), std::string::npos) << assumed(metric);
    EXPECT_EQ(assumed(metric).find(" in of the path"), std::string::npos);
    EXPECT_NE(assumed(state).find(" in of the path"), std::string::npos);
    EXPECT_EQ(state["valves"].size(), state["job"]["valves"].get<std::size_t>());
    const Json edit = {{"version", 1}, {"edits", {{{"key", "title"}, {"value", "Another"}}}}};
    ASSERT_EQ(shop.pat->post(path_of(job, "/edits"), edit).status, 200);
    const auto after = shop.pat->get(path_of(job, "/state")).json();
    EXPECT_EQ(after["job"]["title"], "Another");
    EXPECT_EQ(after["results"]["hold"]["job"], "Another");
    EXPECT_EQ(after["job"]["version"], 2);
    const auto stale = shop.pat->post(path_of(job, "/edits"), edit);
    EXPECT_EQ(stale.status, 409);
    EXPECT_EQ(stale.json()["version"], 2);
    // A head nothing is read of has its own answer, with nothing of another head in it.
    const auto unread = shop.pat->get(path_of(job, "/state?head=nobody"));
    EXPECT_EQ(unread.status, 200) << unread.text;
    EXPECT_EQ(unread.json()["head"], "nobody");
    EXPECT_TRUE(unread.json()["results"]["cut"]["programs"].empty()) << unread.json()["results"]["cut"];
    EXPECT_EQ(unread.json()["stages"]["find"]["line"], "No guide touched yet.");
}

// Who reads a page has no file at hand: what the file is to hold is a button there, told by a field of its
// own. The results are the command line's, whoever asks.
TEST(Results, APageIsToldNoLineOfTheFile) {
    TestShop shop;
    const long long job = shop.job();
    const Json edits = {{{"key", "seat.exhaust.material"}, {"value", "unobtainium"}},
                        {{"key", "head.pattern.valve[0].z"}, {"value", "-3.5 in"}}};
    ASSERT_EQ(shop.pat->post(path_of(job, "/edits"), {{"version", 1}, {"edits", edits}}).status, 200);
    const Json page = shop.pat->get(path_of(job, "/state")).json();
    const std::string results = shop.pat->get(path_of(job, "/results/hold")).text;
    std::string words;
    std::size_t stopped = 0;
    for (const auto& [stage, state] : page["stages"].items()) {
        for (const char* said : {"line", "next", "frees"}) words += state[said].get<std::string>() + "\n";
        words += state["needs"].dump() + "\n";
        stopped += state["frees"] != "" ? 1 : 0;
    }
    for (const Json& warning : page["warnings"]) words += warning["text"].get<std::string>() + "\n";
    for (const char* of_file : {"allow = [", "sure = ", " deg", "wanted to", "what frees it", "seat.exhaust"})
        EXPECT_EQ(words.find(of_file), std::string::npos) << of_file << ": " << words;
    EXPECT_NE(words.find("somebody says that it is right"), std::string::npos) << words;
    EXPECT_NE(words.find("seat material (exhaust)"), std::string::npos) << words;
    EXPECT_NE(words.find("°"), std::string::npos) << words;
    EXPECT_GT(stopped, 0u) << words;
    EXPECT_NE(results.find("sure = ["), std::string::npos) << results;
    EXPECT_EQ(results.find("somebody says"), std::string::npos) << results;
}

// What only a drawing shows, and the drawing is the server's, is not sent with every state of a page.
TEST(Results, APagesStateIsWithoutThePointsOfCharts) {
    TestShop shop;
    const long long job = shop.job();
    const auto whole = shop.pat->get(path_of(job, "/results/cut"));
    const auto page = shop.pat->get(path_of(job, "/state?head=6"));
    const Json charts = page.json()["results"]["cut"]["chatter"], drawn = whole.json()["chatter"];
    ASSERT_GT(drawn.size(), 0u);
    ASSERT_EQ(charts.size(), drawn.size());
    std::size_t points = 0;
    for (std::size_t i = 0; i < charts.size(); ++i) {
        EXPECT_FALSE(charts[i].contains("points"));
        EXPECT_EQ(charts[i]["rpm"], drawn[i]["rpm"]);
        points += drawn[i]["points"].dump().size();
    }
    constexpr std::size_t most = 75'000;  // bytes
    EXPECT_LT(page.text.size(), most);
    EXPECT_GT(page.text.size() + points, most) << "with them it is more: " << points;
}

TEST(Results, EveryDrawingNamedCanBeDrawnForAnExample) {
    TestShop shop;
    const long long job = shop.job();
    const auto state = shop.pat->get(path_of(job, "/state")).json();
    std::set<std::string> named;
    for (const auto& drawing : state["drawings"]) {
        const std::string name = drawing["name"];
        named.insert(name);
        for (const std::string query : {"", "?units=mm", "?form=paper"}) {
            const auto svg = shop.pat->get(path_of(job, "/drawings/" + name + ".svg" + query));
            EXPECT_EQ(svg.status, 200) << name << query << svg.text.substr(0, 200);
            EXPECT_NE(svg.text.find("<svg"), std::string::npos);
            EXPECT_EQ(svg.text.find("<script"), std::string::npos);
            EXPECT_EQ(svg.text.find(" style="), std::string::npos)
                << "a strict policy would ignore it: " << name;
            EXPECT_EQ(svg.text.find("<style"),
                      query == "?form=paper" ? svg.text.find("<style") : std::string::npos);
            EXPECT_EQ(svg.headers.count("Content-Security-Policy"), 1u);
        }
    }
    for (const auto& drawing : drawing_names()) EXPECT_TRUE(named.count(drawing.name)) << drawing.name;
    EXPECT_EQ(shop.pat->get(path_of(job, "/drawings/nothing.svg")).status, 404);
    EXPECT_EQ(shop.pat->get(path_of(job, "/drawings/end.svg?setup=ZZ")).status, 404);
    EXPECT_EQ(shop.pat->get(path_of(job, "/drawings/end.svg?tilt_deg=x")).status, 400);
}

TEST(WhatIf, ADraggedTiltMovesTheDrawingAndStoresNothing) {
    TestShop shop;
    const long long job = shop.job();
    const auto still = shop.pat->get(path_of(job, "/drawings/end.svg")).text;
    const auto moved = shop.pat->get(path_of(job, "/drawings/end.svg?tilt_deg=5")).text;
    EXPECT_NE(still, moved);
    const auto hold = shop.pat->get(path_of(job, "/results/hold")).json();
    const double tilt = hold["setups"][0]["tilt_deg"];
    const auto answer =
        shop.pat
            ->post(path_of(job, "/whatif"), {{"attitude", {{"setup", "A"}, {"tilt_deg", tilt + 1}}},
                                             {"results", {"hold"}},
                                             {"drawings", {{{"name", "end"}}}}})
            .json();
    const auto& setup = answer["results"]["hold"]["setups"][0];
    EXPECT_NEAR(setup["tilt_deg"].get<double>(), tilt + 1, 1e-9);
    // One degree off in the tilt alone is one degree off plumb: rotation about one axis adds.
    EXPECT_NEAR(setup["worst_plumb_deg"].get<double>(), 1,
                0.05 + hold["setups"][0]["worst_plumb_deg"].get<double>());
    EXPECT_TRUE(answer["drawings"]["end"].is_string());
    EXPECT_EQ(answer["stages"].size(), 1u) << "only what was asked for is computed";
    EXPECT_TRUE(answer["stages"].contains("hold"));
    EXPECT_EQ(shop.pat->get(path_of(job)).json()["version"], 1);
    EXPECT_EQ(shop.pat->get(path_of(job, "/drawings/end.svg")).text, still);
}

TEST(WhatIf, WithoutChangesItIsWhatIsStored) {
    TestShop shop;
    const long long job = shop.job();
    const auto answer =
        shop.pat->post(path_of(job, "/whatif"), {{"results", {"hold", "find", "shape", "cut", "prove"}}})
            .json();
    const auto state = shop.pat->get(path_of(job, "/state")).json();
    EXPECT_EQ(answer["results"], state["results"]);
    EXPECT_EQ(answer["stages"], state["stages"]);
    EXPECT_EQ(answer["warnings"], state["warnings"]);
}

TEST(WhatIf, AnEditIsComputedLikeAStoredOne) {
    TestShop shop;
    const long long job = shop.job();
    const Json edits = {{{"key", "seat.intake.width"}, {"value", "0.07 in"}}};
    const auto tried =
        shop.pat->post(path_of(job, "/whatif"), {{"edits", edits}, {"results", {"shape"}}}).json();
    ASSERT_EQ(shop.pat->post(path_of(job, "/edits"), {{"version", 1}, {"edits", edits}}).status, 200);
    EXPECT_EQ(tried["results"]["shape"], shop.pat->get(path_of(job, "/state")).json()["results"]["shape"]);
    const auto bad =
        shop.pat
            ->post(path_of(job, "/whatif"),
                   {{"edits", {{{"key", "seat.intake.width"}, {"value", -1}}}}, {"results", {"shape"}}})
            .json();
    EXPECT_FALSE(bad["faults"].empty());
    EXPECT_TRUE(bad["results"].empty());
}

TEST(WhatIf, AQuestionIsBoundedInNumberSizeAndTime) {
    TestShop shop;
    const long long job = shop.job();
    const auto edits = [](std::size_t count) {
        Json list = Json::array();
        for (std::size_t i = 0; i < count; ++i) list.push_back({{"key", "title"}, {"value", i}});
        return Json{{"edits", list}};
    };
    const auto start = std::chrono::steady_clock::now();
    for (const std::string& place :
         {path_of(job, "/whatif"), path_of(job, "/edits"), std::string("/api/shelf/edits")}) {
        const auto answer = shop.pat->post(place, edits(20'000));
        EXPECT_EQ(answer.status, 400) << place;
        EXPECT_EQ(answer.error(),
                  "at most 200 changes are made at once, these are 20000: send them in parts");
    }
    Json depths = Json::object();
    for (int i = 0; i < 20'000; ++i) depths[std::to_string(i)] = 0.1;
    EXPECT_EQ(shop.pat->post(path_of(job, "/whatif"), {{"depths", depths}}).status, 400);
    const Json long_one = {{"edits", {{{"key", "title"}, {"value", std::string(2u << 20, 'a')}}}}};
    EXPECT_EQ(shop.pat->post(path_of(job, "/whatif"), long_one).status, 413);
    EXPECT_LT(std::chrono::steady_clock::now() - start, std::chrono::seconds(slowed_by_sanitizer ? 150 : 15))
        << "20 000 edits of this job made one by one take 44 s of a core (500 measured)";

    const std::vector<Edit> two{{"title", "a"}, {"title", "b"}};
    const auto late = edited("units = \"mm\"\n", two, std::chrono::milliseconds(0));
    ASSERT_FALSE(late);
    EXPECT_EQ(late.error().why, store::Why::too_large);
    EXPECT_EQ(late.error().text,
              "2 changes of a text this long take more than 0 s: send them in smaller parts");
    const auto in_time = edited("units = \"mm\"\n", two);
    ASSERT_TRUE(in_time) << in_time.error().text;
    EXPECT_NE(in_time->find("title = \"b\""), std::string::npos);
}

TEST(WhatIf, ADraggedDepthBringsItsConsequences) {
    TestShop shop;
    const long long job = shop.job();
    const auto before = shop.pat->get(path_of(job, "/results/shape")).json();
    const auto deeper =
        shop.pat->post(path_of(job, "/whatif"), {{"depths", {{"1I", 0.5}}}, {"results", {"shape"}}}).json();
    const auto after = deeper["results"]["shape"];
    int moved = 0;
    for (std::size_t i = 0; i < after["seats"].size(); ++i) {
        const auto &was = before["seats"][i], &is = after["seats"][i];
        if (is["id"] != "1I" || was["depth_mm"].is_null()) continue;
        ++moved;
        EXPECT_NEAR(is["depth_mm"].get<double>(), 0.5, 1e-12);
        const double by = 0.5 - was["depth_mm"].get<double>();
        EXPECT_NEAR(is["stem_height_after_mm"].get<double>() - was["stem_height_after_mm"].get<double>(), by,
                    1e-9);
        EXPECT_NEAR(is["z_mm"].get<double>() - was["z_mm"].get<double>(), -by, 1e-9);
        EXPECT_NE(is["bridge_mm"], was["bridge_mm"]);
        // The whole follows: the sum, and the chamber by the valve head's area.
        EXPECT_NEAR(after["depth"]["total_mm"].get<double>() - before["depth"]["total_mm"].get<double>(), by,
                    1e-9);
        EXPECT_GT(after["chambers"][0]["change_cm3"].get<double>(),
                  before["chambers"][0]["change_cm3"].get<double>());
    }
    EXPECT_EQ(moved, 1);
}

TEST(Why, EveryStageHasItsReasons) {
    TestShop shop;
    const long long job = shop.job();
    for (const std::string stage : {"hold", "find", "shape", "cut", "prove"}) {
        const auto why = shop.pat->get(path_of(job, "/why/" + stage)).json();
        EXPECT_GE(why["reasons"].size(), 5u) << stage;
        for (const auto& reason : why["reasons"])
            for (const std::string part : {"key", "says", "formula", "source"})
                EXPECT_FALSE(reason[part].get<std::string>().empty());
    }
    EXPECT_EQ(shop.pat->get(path_of(job, "/why/guess")).status, 404);
}

}  // namespace
}  // namespace seatwright::server
