// The survey command as a person runs it: a job that check reads and hold plans, written whole or not at all,
// never over another's file.
#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "outside/program.hpp"

namespace seatwright::outside {
namespace {

const std::string example = std::string(places::root) + "/examples/survey/readings.toml";

bool finite_or_null(const nlohmann::json& json) {
    if (json.is_structured())
        for (const auto& part : json)
            if (!finite_or_null(part)) return false;
    return !json.is_number_float() || std::isfinite(json.get<double>());
}

TEST(SurveyCommand, MakesAJobThatIsReadAndPlanned) {
    const Scratch scratch;
    const std::string job = scratch.path() / "job.toml";
    const auto ran = run("survey " + example + " --out " + job + " --json");
    EXPECT_EQ(ran.status, 0) << ran.err;
    const auto json = nlohmann::json::parse(ran.out);
    for (const char* key : {"seatwright", "job", "warnings", "assumptions", "head", "valves", "holes",
                            "repeats", "missing", "sensor_zero_deg", "setups"})
        EXPECT_TRUE(json.contains(key)) << key;
    EXPECT_TRUE(finite_or_null(json));
    ASSERT_EQ(json["valves"].size(), 8u);
    for (const auto& v : json["valves"])
        for (const char* key : {"id", "kind", "x_mm", "y_mm", "z_mm", "incline_deg", "cant_deg", "u_xy_mm",
                                "u_z_mm", "u_angle_deg", "bore_mm", "gauge_mm", "seat_angle_deg", "setup"})
            EXPECT_TRUE(v.contains(key)) << key;
    // Every figure has its uncertainty beside it.
    EXPECT_NE(slurp(job).find("# u = "), std::string::npos);
    EXPECT_EQ(run("check " + job).status, 0);
    const auto held = run("hold " + job + " --json");
    EXPECT_EQ(held.status, 0) << held.out.substr(0, 2000);
    const auto plan = nlohmann::json::parse(held.out);
    EXPECT_EQ(plan["setups"].size(), 2u);
    // The table says the same; nothing of a shop needed.
    EXPECT_NE(run("survey " + example + " --out " + job).out.find("bore spacing"), std::string::npos);
}

TEST(SurveyCommand, NeverReplacesAnothersFile) {
    const Scratch scratch;
    const std::string theirs = scratch.write("theirs.toml", "# mine\n");
    const auto refused = run("survey " + example + " --out " + theirs);
    EXPECT_EQ(refused.status, 2);
    EXPECT_NE(refused.err.find("--replace"), std::string::npos) << refused.err;
    EXPECT_EQ(slurp(theirs), "# mine\n");
    EXPECT_EQ(run("survey " + example + " --out " + theirs + " --replace").status, 0);
    EXPECT_NE(slurp(theirs), "# mine\n");
    // Ours is replaced, changed by hand it is not.
    EXPECT_EQ(run("survey " + example + " --out " + theirs).status, 0);
    std::ofstream(theirs, std::ios::app) << "# a note\n";
    EXPECT_EQ(run("survey " + example + " --out " + theirs).status, 2);
    EXPECT_NE(slurp(theirs).find("# a note"), std::string::npos);
    // The readings are no job.
    const std::string readings = scratch.write("readings.toml", slurp(example));
    EXPECT_EQ(run("survey " + readings + " --out " + readings).status, 2);
    EXPECT_EQ(slurp(readings), slurp(example));
    EXPECT_EQ(run("survey " + example + " --out " + (scratch.path() / "no" / "job.toml").string()).status, 2);
    EXPECT_EQ(run("survey " + example + " --out " + scratch.path().string()).status, 2);
    for (const auto& left : fs::directory_iterator(scratch.path()))
        EXPECT_EQ(left.path().filename().string().find(".part"), std::string::npos) << left.path();
}

TEST(SurveyCommand, OpenFiguresStopAndFaultsSayWhere) {
    const Scratch scratch;
    const std::string job = scratch.path() / "job.toml";
    auto text = slurp(example);
    text.replace(text.find("shop = "), text.find('\n', text.find("shop = ")) - text.find("shop = "), "");
    for (const char* key : {"machine = ", "fixture = "})
        text.replace(text.find(key), text.find('\n', text.find(key)) - text.find(key), "");
    // Without a single valve head no guide's height is known.
    std::string open;
    for (std::size_t at = 0; at < text.size();) {
        const auto next = std::min(text.find("\n[[", at), text.size() - 1) + 1;
        const auto block = text.substr(at, next - at);
        if (block.find("head_height") == std::string::npos) open += block;
        at = next;
    }
    const auto ran = run("survey " + scratch.write("open.toml", open).string() + " --out " + job + " --json");
    EXPECT_EQ(ran.status, 3) << ran.err;
    EXPECT_FALSE(fs::exists(job));
    const auto json = nlohmann::json::parse(ran.out);
    EXPECT_TRUE(json["valves"][0]["z_mm"].is_null());
    EXPECT_TRUE(json["valves"][0]["u_z_mm"].is_null());
    EXPECT_FALSE(json["missing"].empty());
    text.replace(text.find("first = "), 8, "frist = ");
    const auto bad = run("survey " + scratch.write("bad.toml", text).string() + " --out " + job);
    EXPECT_EQ(bad.status, 2);
    EXPECT_NE(bad.err.find("did you mean"), std::string::npos) << bad.err;
    EXPECT_FALSE(fs::exists(job));
}

}  // namespace
}  // namespace seatwright::outside
