// The casting command as a person runs it: what the demonstration batch has taught, to a file, and a new job
// that begins with it.
#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "outside/program.hpp"

namespace seatwright::outside {
namespace {

using Json = nlohmann::json;

TEST(CastingCommand, ANewJobBeginsWithWhatTheLastOneTaught) {
    const Scratch scratch;
    const std::string casting = scratch.path() / "wedge.casting.toml";
    const auto ran = run("casting " + wedge + " --out " + casting + " --json");
    ASSERT_EQ(ran.status, 0) << ran.err;
    const auto said = Json::parse(ran.out);
    EXPECT_GE(said["heads"].get<int>(), 1);
    const auto text = slurp(casting);
    for (const char* table : {"[casting]", "[[casting.past]]", "[head", "[seat.intake]", "[guide.exhaust]"})
        EXPECT_NE(text.find(table), std::string::npos) << table;
    const std::string shop = std::string(places::root) + "/shop/shop.toml";
    const auto source = slurp(wedge);
    const auto line_of = [&](const std::string& key) {
        const auto at = source.find("\n" + key + " = ");
        return source.substr(at + 1, source.find('\n', at + 1) - at);
    };
    const auto job = scratch.write("next.toml", "title = \"next order\"\nunits = \"in\"\nshop = \"" + shop +
                                                    "\"\n" + line_of("machine") + line_of("fixture") +
                                                    "casting = \"wedge.casting.toml\"\n");
    EXPECT_EQ(run("check " + job.string()).status, 0) << run("check " + job.string()).err;
    const auto held = Json::parse(run("hold " + job.string() + " --json").out);
    const auto theirs = Json::parse(run("hold " + wedge + " --json").out);
    EXPECT_EQ(held["setups"].size(), theirs["setups"].size());
    for (std::size_t v = 0; v < theirs["setups"][0]["valves"].size(); ++v)
        for (const char* axis : {"x_mm", "y_mm", "z_mm"})
            EXPECT_NEAR(held["setups"][0]["valves"][v][axis].get<double>(),
                        theirs["setups"][0]["valves"][v][axis].get<double>(), 1e-9);
    EXPECT_TRUE(std::any_of(held["inputs"].begin(), held["inputs"].end(),
                            [](const Json& i) { return i["from"] == "casting"; }));
    // Ours is written again, another's is not.
    EXPECT_EQ(run("casting " + wedge + " --out " + casting).status, 0);
    std::ofstream(casting, std::ios::app) << "# a note\n";
    EXPECT_EQ(run("casting " + wedge + " --out " + casting).status, 2);
    auto newer = text;
    newer.replace(newer.find("form = 1"), 8, "form = 9");
    scratch.write("wedge.casting.toml", newer);
    const auto refused = run("check " + job.string());
    EXPECT_EQ(refused.status, 2);
    EXPECT_NE(refused.err.find("newer program"), std::string::npos) << refused.err;
    EXPECT_EQ(std::count(refused.err.begin(), refused.err.end(), '\n'), 1) << refused.err;
}

TEST(CastingCommand, WhatWasReadIsSaidToBeSurveyed) {
    const Scratch scratch;
    const std::string job = scratch.path() / "job.toml";
    const std::string readings = std::string(places::root) + "/examples/survey/readings.toml";
    ASSERT_EQ(run("survey " + readings + " --out " + job).status, 0);
    const auto held = Json::parse(run("hold " + job + " --json").out);
    for (const auto& input : held["inputs"]) {
        const auto what = input["what"].get<std::string>();
        if (what.starts_with("head.valve.") || what.starts_with("head.bolt_holes")) {
            EXPECT_EQ(input["from"], "survey") << what;
        }
    }
}

}  // namespace
}  // namespace seatwright::outside
