// A survey over the network: from nothing to a job, with what goes wrong on the way.
#include <gtest/gtest.h>

#include <fmt/format.h>

#include <fstream>
#include <regex>

#include "client.hpp"
#include "places.hpp"
#include "seatwright/job/text.hpp"
#include "seatwright/store/toml_json.hpp"
#include "survey/simulated.hpp"

namespace seatwright::server {
namespace {

struct Surveyed {
    TestShop shop;
    long long id = 0;
    int keys = 0;

    Surveyed() { begin({{"cylinders", 4}, {"intake", 1}, {"exhaust", 1}}); }

    void begin(const Json& head) {
        id = shop.pat
                 ->post(
                     "/api/surveys",
                     {{"client_key", "first"}, {"title", "invented head"}, {"units", "mm"}, {"values", head}})
                 .json()
                 .value("id", 0LL);
    }
    std::string path(const std::string& rest = "") const {
        return "/api/surveys/" + std::to_string(id) + rest;
    }
    Json state() { return shop.pat->get(path()).json(); }
    Answered say(const std::string& kind, const Json& values, const Json& more = Json::object()) {
        Json body{{"client_key", "k" + std::to_string(++keys)}, {"kind", kind}, {"values", values}};
        body.update(more);
        return shop.pat->post(path("/entries"), body);
    }
    void read_the_example(const std::function<void(const std::string&, Json&)>& spoil = {}, double sign = 1) {
        std::ifstream in(std::string(places::root) + "/examples/survey/readings.toml");
        read({std::istreambuf_iterator<char>(in), {}}, spoil, sign);
    }
    // Readings of a file, line by line, as a person types them; its tilts are said once a setup.
    void read(const std::string& text, const std::function<void(const std::string&, Json&)>& spoil = {},
              double sign = 1) {
        const Json tables = store::tables_of(text);
        std::set<std::string> set;
        for (const char* kind : {"level", "point", "size"})
            for (Json values : tables.value(kind, Json::array())) {
                if (values.contains("tilt") && set.insert(values["setup"]).second) {
                    ASSERT_EQ(say("setup", {{"setup", values["setup"]},
                                            {"tilt", sign * values["tilt"].get<double>()},
                                            {"swing", sign * values["swing"].get<double>()}})
                                  .status,
                              201);
                }
                values.erase("tilt");
                values.erase("swing");
                if (spoil) spoil(kind, values);
                if (values.is_null()) continue;  // it was not read
                const auto answer = say(kind, values);
                ASSERT_EQ(answer.status, 201) << answer.text << values.dump();
            }
    }
    const Json valve(const Json& state, const std::string& name) {
        for (const auto& v : state["found"]["valves"])
            if (v["id"] == name) return v;
        return nullptr;
    }
};

TEST(SurveysOverHttp, FromNothingToAPlannedJob) {
    Surveyed s;
    const Json empty = s.state();
    EXPECT_EQ(empty["guides"], Json({"1I", "1E", "2I", "2E", "3I", "3E", "4I", "4E"}));
    ASSERT_FALSE(empty["steps"].empty());
    EXPECT_EQ(empty["steps"][0]["key"], "deck level/L/incline");
    EXPECT_NE(empty["steps"][0]["sentence"].get<std::string>().find("sensor"), std::string::npos);
    EXPECT_EQ(empty["ready"], false);
    const auto too_soon = s.shop.pat->post("/api/jobs", {{"from", "survey"}, {"survey", s.id}});
    EXPECT_EQ(too_soon.status, 422);
    EXPECT_NE(too_soon.error().find("every valve open"), std::string::npos);

    s.read_the_example();
    const Json state = s.state();
    EXPECT_TRUE(state["faults"].empty()) << state["faults"].dump();
    EXPECT_TRUE(state["steps"].empty()) << state["steps"].dump();
    EXPECT_EQ(state["whole"], true);
    ASSERT_EQ(state["found"]["valves"].size(), 8u);
    EXPECT_NEAR(s.valve(state, "1I")["incline_deg"].get<double>(), -31, 0.1);

    const auto made =
        s.shop.pat->post("/api/jobs", {{"from", "survey"},
                                       {"survey", s.id},
                                       {"sizes",
                                        {{"intake", {{"seat_angle", 45}, {"seat_width", 1.5}}},
                                         {"exhaust", {{"seat_angle", 45}, {"seat_width", 1.8}}}}}});
    ASSERT_EQ(made.status, 201) << made.text;
    const long long job = made.json()["id"];
    EXPECT_EQ(s.state()["job"], job);
    const Json planned = s.shop.pat->get(path_of(job, "/state")).json();
    EXPECT_TRUE(planned["faults"].empty());
    ASSERT_FALSE(planned["results"]["hold"].is_null());
    EXPECT_EQ(planned["results"]["hold"]["setups"].size(), 2u);
    ASSERT_FALSE(planned["results"]["find"].is_null());
    ASSERT_FALSE(planned["results"]["shape"].is_null()) << planned["stages"].dump();
    bool surveyed = false;
    for (const auto& input : planned["results"]["hold"]["inputs"])
        surveyed = surveyed || input["from"] == "survey";
    EXPECT_TRUE(surveyed) << "hold says where its figures come from";
}

// Every sentence for a person is in the unit asked for; what was typed and what it comes to are as they are.
TEST(SurveysOverHttp, ItsSentencesAreInTheUnitAskedFor) {
    Surveyed s;
    s.read_the_example([&](const std::string& kind, Json& values) {
        if (kind == "point" && values.value("id", "") == "3I" && values.contains("x"))
            values["x"] = values["x"].get<double>() + 10;
    });
    const auto said = [](const Json& state) {
        std::string out;
        for (const auto& step : state["steps"])
            out += step["sentence"].get<std::string>() + "\n" + step["why"].get<std::string>() + "\n";
        for (const auto& entry : state["entries"])
            if (entry["set_aside"].is_string()) out += entry["set_aside"].get<std::string>() + "\n";
        for (const auto& repeats : state["found"]["repeats"])
            out += repeats["text"].get<std::string>() + "\n";
        return out;
    };
    const auto in_mm = [](const std::string& text) {
        return std::regex_search(text, std::regex(R"([0-9] mm\b)"));
    };
    // Not "hole H1 in setup A".
    const auto in_inches = [](const std::string& text) {
        return std::regex_search(text, std::regex(R"([.][0-9]+ in\b)"));
    };
    const Json own = s.state(), inches = s.shop.pat->get(s.path("?units=in")).json();
    EXPECT_TRUE(in_mm(said(own)) && !in_inches(said(own))) << said(own);
    EXPECT_TRUE(in_inches(said(inches)) && !in_mm(said(inches))) << said(inches);
    EXPECT_EQ(said(s.shop.pat->get(s.path("?units=mm")).json()), said(own));
    EXPECT_EQ(inches["units"], "mm") << "those of its readings";
    EXPECT_EQ(inches["found"]["valves"], own["found"]["valves"]);
    const auto unknown = s.shop.pat->get(s.path("?units=cm"));
    EXPECT_EQ(unknown.status, 400);
    EXPECT_EQ(unknown.error(), "units are in or mm");
}

// A figure with its unit behind it, as a page that shows another sends it, is the same reading.
TEST(SurveysOverHttp, AReadingWithItsUnitIsTheSameReading) {
    Surveyed bare, inches;
    bare.read_the_example();
    inches.read_the_example([](const std::string&, Json& values) {
        for (const char* key : {"x", "y", "z", "ball", "diameter", "head_height", "value"})
            if (values.contains(key) && values[key].is_number())
                values[key] = fmt::format("{:.12g} in", values[key].get<double>() / 25.4);
    });
    const Json one = bare.state(), other = inches.state();
    ASSERT_EQ(one["found"]["valves"].size(), other["found"]["valves"].size());
    for (std::size_t i = 0; i < one["found"]["valves"].size(); ++i)
        for (const char* key : {"x_mm", "y_mm", "z_mm"})
            EXPECT_NEAR(one["found"]["valves"][i][key].get<double>(),
                        other["found"]["valves"][i][key].get<double>(), 1e-6);
}

// What repeats and was accepted stands in the job, also of a guide nobody read; what is taken back does not.
TEST(SurveysOverHttp, WhatRepeatsIsTakenOverWhereSomebodyAcceptsIt) {
    Surveyed s;
    s.read_the_example([](const std::string& kind, Json& values) {
        if (kind == "point" && values.value("id", "") == "4E") values = nullptr;
    });
    const auto heights = [&](char kind) {
        const auto made = s.shop.pat->post("/api/jobs", {{"from", "survey"}, {"survey", s.id}});
        EXPECT_EQ(made.status, 201) << made.text;
        std::vector<double> z;
        const Json job = s.shop.pat->get(path_of(made.json()["id"])).json();
        for (const auto& v : job["tables"]["head"]["valve"])
            if (v["id"].get<std::string>().back() == kind) z.push_back(v["z"]);
        return z;
    };
    EXPECT_EQ(heights('E').size(), 3u) << "4E was not read";
    const Json offered{"bore spacing", "like valves E", "row of guides E"};
    ASSERT_EQ(s.say("head", {{"accepted", offered}}).status, 201);
    EXPECT_EQ(s.state()["head"]["accepted"], offered);
    const auto z = heights('E');
    ASSERT_EQ(z.size(), 4u) << "and now stands as the others do";
    for (const double each : z) EXPECT_EQ(each, z[0]);
    EXPECT_NE(heights('I')[0], heights('I')[1]) << "of these nothing was said";
    ASSERT_EQ(s.say("head", {{"accepted", Json::array()}}).status, 201);
    EXPECT_EQ(heights('E').size(), 3u);
    EXPECT_EQ(s.say("head", {{"accepted", "all"}}).status, 400);
}

TEST(SurveysOverHttp, AWrongReadingIsSetAsideNamedAndMayBeTakenBack) {
    Surveyed s;
    s.read_the_example([](const std::string& kind, Json& values) {
        if (kind == "point" && values["what"] == "guide" && values["id"] == "3I")
            values["x"] = values["x"].get<double>() + 10;
    });
    Json state = s.state();
    std::vector<Json> aside;
    for (const auto& e : state["entries"])
        if (!e["set_aside"].is_null()) aside.push_back(e);
    // Where it could be the guide's place or its height, both are.
    ASSERT_FALSE(aside.empty()) << state["entries"].dump();
    for (const auto& e : aside) EXPECT_EQ(e["values"]["id"], "3I") << e;
    std::erase_if(aside, [](const Json& e) { return e["values"]["what"] != "guide"; });
    ASSERT_EQ(aside.size(), 1u);
    Json right = aside[0]["values"];
    right["x"] = right["x"].get<double>() - 10;
    ASSERT_EQ(s.say("point", right, {{"corrects", aside[0]["id"]}}).status, 201);
    state = s.state();
    for (const auto& e : state["entries"]) EXPECT_TRUE(e["set_aside"].is_null()) << e.dump();
    EXPECT_EQ(state["whole"], true);
    ASSERT_EQ(
        s.say("point", Json::object(), {{"corrects", state["entries"].back()["id"]}, {"withdrawn", true}})
            .status,
        201);
}

// Signs come out right whichever lean was read.
TEST(SurveysOverHttp, StemLeanAndChamberLeanComeToTheSameHead) {
    Surveyed chamber, stem;
    chamber.read_the_example();
    ASSERT_EQ(stem.say("head", {{"lean_of", "stem"}}).status, 201);
    stem.read_the_example([](const std::string& kind, Json& values) {
        // The stem leans the other way: what is typed first is what the other shop's sensor showed turned
        // round.
        if (kind == "level" && values["what"] == "guide") std::swap(values["first"], values["second"]);
    });
    const Json a = chamber.state(), b = stem.state();
    for (const auto& v : a["found"]["valves"]) {
        const Json w = stem.valve(b, v["id"]);
        for (const char* key : {"x_mm", "y_mm", "z_mm", "incline_deg", "cant_deg"})
            EXPECT_EQ(v[key], w[key]) << v["id"] << key;
    }
}

// The sign of a whole row contradicts nothing but the tilt: it is asked with a picture, and the answer
// settles it.
TEST(SurveysOverHttp, AMissedSignOfARowIsAskedAndTheAnswerSettlesIt) {
    Surveyed s;
    s.read_the_example([](const std::string& kind, Json& values) {
        if (kind == "level" && values["what"] == "guide" && values["across"] == "incline" &&
            values["id"].get<std::string>().back() == 'I')
            std::swap(values["first"], values["second"]);
    });
    Json state = s.state();
    bool asked = false;
    for (const auto& step : state["steps"]) asked = asked || (step["of"] == "way" && step["id"] == "I");
    EXPECT_TRUE(asked) << state["steps"].dump() << state["faults"].dump();
    ASSERT_EQ(s.say("way", {{"letters", "I"}, {"way", "front"}}).status, 201);
    state = s.state();
    EXPECT_TRUE(state["faults"].empty());
    ASSERT_EQ(state["whole"], true) << state["steps"].dump();
    EXPECT_NEAR(s.valve(state, "1I")["incline_deg"].get<double>(), -31, 0.1);
}

// A cant's sign is asked of one guide, since where the order alternates the row leans both ways.
TEST(SurveysOverHttp, AMissedSignAlongTheHeadIsAskedOfOneGuide) {
    using survey::simulated::Machine;
    survey::simulated::Normal normal(41);
    const survey::simulated::Sds sds;
    const auto head = survey::simulated::head_of(survey::simulated::layout("canted"), sds, normal);
    const std::string text = Machine(head, sds, normal).read({}).text;
    for (const bool missed : {false, true}) {
        Surveyed s;
        s.read(text, [&](const std::string& kind, Json& values) {
            if (missed && kind == "level" && values["what"] == "guide" && values["across"] == "cant" &&
                values["id"].get<std::string>().back() == 'I')
                std::swap(values["first"], values["second"]);
        });
        Json state = s.state();
        const Json first = state["steps"].empty() ? Json::object() : state["steps"][0];
        EXPECT_EQ(first.value("of", "") == "way", missed) << first;
        if (missed) {
            EXPECT_EQ(first["across"], "cant");
            EXPECT_EQ(first["id"], "1I");
            EXPECT_EQ(s.say("way", {{"id", "1I"}, {"way", "back"}}).status, 400);
            ASSERT_EQ(s.say("way", {{"id", "1I"}, {"way", "right"}}).status, 201);
            state = s.state();
        }
        EXPECT_TRUE(state["faults"].empty()) << state["faults"];
        for (const auto& g : head.guides) {
            const Json v = s.valve(state, g.id);
            ASSERT_FALSE(v["cant_deg"].is_null()) << g.id << state["steps"];
            EXPECT_NEAR(v["cant_deg"].get<double>(), g.cant, 0.1) << g.id;
            EXPECT_NEAR(v["incline_deg"].get<double>(), g.incline, 0.1) << g.id;
        }
    }
}

// A look that says the row was read rightly leaves the place in doubt, and nothing is asked again.
TEST(SurveysOverHttp, ALookThatFindsTheSignRightDoubtsThePlace) {
    Surveyed s;
    // The pilot stood over 1E when 1I was typed; of 1I's row no other was read yet, and both rows lean alike.
    survey::simulated::Normal normal(43);
    const survey::simulated::Sds sds;
    auto head = survey::simulated::head_of(survey::simulated::layout("hemispherical"), sds, normal);
    for (auto& g : head.guides)
        if (g.id.back() == 'E') g.incline -= 2;
    s.read(survey::simulated::Machine(head, sds, normal).read({}).text,
           [](const std::string& kind, Json& values) {
               if (kind != "point" || (values["what"] != "guide" && values["what"] != "valve head")) return;
               const auto id = values["id"].get<std::string>();
               if (id == "1E" && values["what"] == "guide")
                   values["id"] = "1I";
               else if (id == "1E" || id.back() == 'I')
                   values = nullptr;
           });
    const auto way = [](const Json& state) {
        return !state["steps"].empty() && state["steps"][0]["of"] == "way" && state["steps"][0]["id"] == "I";
    };
    EXPECT_TRUE(way(s.state())) << s.state()["steps"];
    ASSERT_EQ(s.say("way", {{"letters", "I"}, {"way", "front"}}).status, 201);
    const Json state = s.state();
    EXPECT_TRUE(state["faults"].empty()) << state["faults"];
    for (const auto& step : state["steps"]) EXPECT_NE(step["of"], "way") << step;
    EXPECT_NEAR(s.valve(state, "1I")["incline_deg"].get<double>(), -31, 0.1);
    // Its x is where the head's own figures begin, wherever it is.
    EXPECT_TRUE(s.valve(state, "1I")["y_mm"].is_null()) << "it was another guide's";
    bool doubted = false;
    for (const auto& e : state["entries"])
        doubted =
            doubted || (e["values"].value("what", "") == "guide" && e["values"].value("id", "") == "1I" &&
                        e["kind"] == "point" && !e["set_aside"].is_null());
    EXPECT_TRUE(doubted) << state["entries"];
}

// Cylinders numbered against the readout: a picture asks whether the head lies turned end for end or the
// readout counts the other way, and front and back come out by the answer.
TEST(SurveysOverHttp, WhichEndIsWhichIsAskedAndTheAnswerSettlesIt) {
    const auto turned = [](const std::string&, Json& values) {
        for (const char* key : {"x", "y", "first", "second"})
            if (values.contains(key)) values[key] = -values[key].get<double>();
    };
    const auto asked = [](const Json& state) {
        return std::any_of(state["steps"].begin(), state["steps"].end(),
                           [](const auto& step) { return step["of"] == "end"; });
    };
    Surveyed straight, s;
    straight.read_the_example();
    EXPECT_FALSE(asked(straight.state()));
    s.read_the_example(turned, -1);
    EXPECT_TRUE(asked(s.state())) << s.state()["steps"].dump();
    EXPECT_EQ(s.say("head", {{"end", "up"}}).status, 400);
    ASSERT_EQ(s.say("head", {{"end", "turned"}}).status, 201);
    Json state = s.state();
    EXPECT_FALSE(asked(state));
    const Json was = straight.state();
    for (const auto& v : was["found"]["valves"])
        for (const char* key : {"x_mm", "y_mm", "z_mm", "incline_deg"})
            EXPECT_NEAR(s.valve(state, v["id"])[key].get<double>(), v[key].get<double>(), 1e-3)
                << v["id"] << key;
    // The readout counts the other way: what is front becomes back.
    ASSERT_EQ(s.say("head", {{"end", "readout"}}).status, 201);
    state = s.state();
    EXPECT_FALSE(asked(state));
    EXPECT_TRUE(state["faults"].empty()) << state["faults"].dump();
    for (const auto& v : was["found"]["valves"]) {
        EXPECT_NEAR(s.valve(state, v["id"])["x_mm"].get<double>(), v["x_mm"].get<double>(), 0.01) << v["id"];
        EXPECT_NEAR(s.valve(state, v["id"])["y_mm"].get<double>(), -v["y_mm"].get<double>(), 0.01) << v["id"];
        EXPECT_NEAR(s.valve(state, v["id"])["incline_deg"].get<double>(), -v["incline_deg"].get<double>(),
                    0.01)
            << v["id"];
    }
}

TEST(SurveysOverHttp, ABadEntryIsOneSentenceAndNothingIsStored) {
    Surveyed s;
    const auto refused = [&](const std::string& kind, const Json& values, const std::string& says) {
        const auto answer = s.say(kind, values);
        EXPECT_EQ(answer.status, 400) << answer.text;
        EXPECT_NE(answer.error().find(says), std::string::npos) << answer.error();
    };
    refused("point", {{"setup", "L"}, {"what", "guide"}, {"id", "H1"}, {"x", 1}, {"y", 2}},
            "no guide's name");
    refused("point",
            {{"setup", "L"},
             {"what", "hole"},
             {"id", "H1"},
             {"x", 1},
             {"y", 2},
             {"z", 3},
             {"ball", 5},
             {"diameter", 13.5}},
            "falls through");
    refused("point", {{"setup", "L"}, {"what", "deck"}, {"x", 1}, {"y", 2}},
            "a place on the deck needs X, Y and Z");
    refused("level", {{"setup", "L"}, {"what", "guide"}, {"id", "1I"}, {"across", "sideways"}, {"first", 1}},
            "across");
    refused("size", {{"what", "bore"}, {"id", "1I"}, {"value", 0.315}}, "if it is right write sure = true");
    refused("setup", {{"setup", "A"}, {"tilt", "steep"}}, "in degrees");
    refused("way", {{"letters", "I"}, {"way", "up"}}, "back");
    refused("thought", {{"words", "x"}}, "kind is");
    EXPECT_EQ(s.say("point", Json::object(), {{"withdrawn", true}}).status, 400);
    EXPECT_EQ(s.state()["entries"].size(), 1u);
    const auto none = s.shop.pat->post("/api/surveys", {{"client_key", "x"}, {"title", ""}, {"units", "mm"}});
    EXPECT_EQ(none.status, 400);
    EXPECT_EQ(
        s.shop.pat
            ->post("/api/surveys",
                   {{"client_key", "x"}, {"title", "t"}, {"units", "mm"}, {"values", {{"cylinders", 99}}}})
            .status,
        400);
    EXPECT_EQ(s.shop.pat->get("/api/surveys/77").status, 404);
}

TEST(SurveysOverHttp, AReaderLooksAndTheFileIsTheOneTheCommandReads) {
    Surveyed s;
    s.read_the_example();
    const auto reader = s.shop.person("Ray", "reader");
    EXPECT_EQ(reader->get(s.path()).status, 200);
    EXPECT_EQ(reader->post(s.path("/entries"), {{"client_key", "r"}, {"kind", "size"}}).status, 403);
    EXPECT_EQ(reader->post("/api/surveys", {{"client_key", "r"}}).status, 403);
    const auto file = reader->get(s.path("/file"));
    EXPECT_EQ(file.status, 200);
    const Json tables = store::tables_of(file.text);
    EXPECT_EQ(tables["point"].size(), 27u);
    EXPECT_EQ(tables["point"].back()["tilt"], 32.71);
    EXPECT_EQ(reader->get("/api/surveys").json()["surveys"].size(), 1u);
}

}  // namespace
}  // namespace seatwright::server
