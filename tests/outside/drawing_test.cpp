// The drawing command as a person runs it, against heads that another library (python3-ezdxf) drew in every
// version of the format it writes, as text and as binary: the figures come back to 1e-9 mm.
#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "outside/program.hpp"

namespace seatwright::outside {
namespace {

using Json = nlohmann::json;

constexpr double same_place = 1e-9;

// Nearest of `all` to x, y; its distance.
std::pair<const Json*, double> nearest(const Json& all, double x, double y) {
    const Json* best = nullptr;
    double least = 1e9;
    for (const auto& one : all) {
        const double d = std::hypot(one["x_mm"].get<double>() - x, one["y_mm"].get<double>() - y);
        if (d < least) {
            least = d;
            best = &one;
        }
    }
    return {best, least};
}

void compare(const Json& truth, const Json& answer) {
    SCOPED_TRACE(truth["file"].get<std::string>());
    // Written as text a coordinate has 16 digits; some of these sheets lie hundreds of mm from their origin.
    const double turned = truth["file"].get<std::string>().starts_with("hemi") ? 1e-8 : same_place;
    ASSERT_EQ(answer["valves"].size(), truth["valves"].size());
    for (const auto& v : truth["valves"]) {
        const auto [found, off] = nearest(answer["valves"], v[0], v[1]);
        EXPECT_LT(off, turned) << v;
        EXPECT_EQ((*found)["kind"], v[2]) << v;
        EXPECT_NEAR((*found)["bore_mm"].get<double>(), v[3].get<double>(), same_place);
        EXPECT_NEAR((*found)["gauge_mm"].get<double>(), v[4].get<double>(), same_place);
        EXPECT_TRUE((*found)["z_mm"].is_null());
        EXPECT_TRUE((*found)["u_z_mm"].is_null());
        EXPECT_LT((*found)["u_xy_mm"].get<double>(), 1e-5);
        if (v[5].is_null()) {
            EXPECT_TRUE((*found)["lean_deg"].is_null());
            EXPECT_TRUE((*found)["incline_deg"].is_null());
        } else {
            EXPECT_NEAR((*found)["lean_deg"].get<double>(), v[5].get<double>(), 1e-7);
            EXPECT_NEAR((*found)["incline_deg"].get<double>(), v[6][0].get<double>(), 1e-7);
            EXPECT_NEAR((*found)["cant_deg"].get<double>(), v[6][1].get<double>(), 1e-7);
        }
    }
    std::size_t bolts = 0;
    for (const auto& h : answer["holes"]) bolts += h["what"] == "bolt" ? 1 : 0;
    EXPECT_EQ(bolts, truth["bolts"].size());
    for (const auto& b : truth["bolts"]) {
        const auto [found, off] = nearest(answer["holes"], b[0], b[1]);
        EXPECT_LT(off, turned) << b;
        EXPECT_EQ((*found)["what"], "bolt");
        EXPECT_NEAR((*found)["diameter_mm"].get<double>(), truth["bolt_diameter"].get<double>(), same_place);
    }
    for (const auto& p : truth["plugs"]) {
        const auto [found, off] = nearest(answer["holes"], p[0], p[1]);
        EXPECT_LT(off, turned) << p;
        EXPECT_EQ((*found)["what"], "plug");
    }
    EXPECT_EQ(answer["head"]["valve"].back()["cylinder"], truth["cylinders"]);
    EXPECT_EQ(answer["head"]["bolt_holes"].size(), truth["bolts"].size());
}

TEST(DrawingCommand, HeadsDrawnInEveryVersionComeBack) {
    const Scratch scratch;
    const std::string made = "/usr/bin/python3 " + std::string(places::root) +
                             "/tests/outside/heads_in_dxf.py " + scratch.path().string() + " 2>" +
                             (scratch.path() / "err").string();
    ASSERT_EQ(std::system(made.c_str()), 0)
        << "python3-ezdxf (scripts/packages.sh) is needed: " << slurp(scratch.path() / "err");
    const auto all = Json::parse(slurp(scratch.path() / "truth.json"));
    ASSERT_EQ(all.size(), 54u);  // seven versions of four heads, twice; one version has no ellipses
    const std::string job = scratch.path() / "job.toml";
    for (const auto& truth : all) {
        const auto ran = run("drawing " + (scratch.path() / truth["file"].get<std::string>()).string() + " " +
                             truth["arguments"].get<std::string>() + " --json --out " + job);
        ASSERT_EQ(ran.status, 0) << truth["file"] << ran.err;
        compare(truth, Json::parse(ran.out));
        if (HasFailure()) return;
    }
    EXPECT_EQ(run("check " + job).status, 0);
    // What the drawing leaves open stops the plan, by name.
    const auto held = run("hold " + job + " --json");
    EXPECT_EQ(held.status, 3);
    const auto plan = Json::parse(held.out);
    EXPECT_TRUE(std::any_of(plan["warnings"].begin(), plan["warnings"].end(),
                            [](const Json& w) { return w["code"] == "not-from-you"; }));
    EXPECT_TRUE(std::any_of(plan["inputs"].begin(), plan["inputs"].end(), [](const Json& i) {
        return i["what"] == "head.valve.1I.z" && i["from"] == "default";
    }));
}

TEST(DrawingCommand, BadDrawingsAreOneSentenceEach) {
    const Scratch scratch;
    const std::string job = scratch.path() / "job.toml";
    const auto example = slurp(std::string(places::root) + "/examples/drawing/deck.dxf");
    ASSERT_FALSE(example.empty());
    const auto refused = [&](const std::string& text, const std::string& says, const std::string& more = "") {
        const auto ran =
            run("drawing " + scratch.write("bad.dxf", text).string() + " " + more + " --out " + job);
        EXPECT_EQ(ran.status, 2) << says;
        EXPECT_NE(ran.err.find(says), std::string::npos) << "wanted: " << says << "\ngot: " << ran.err;
        EXPECT_EQ(std::count(ran.err.begin(), ran.err.end(), '\n'), 1) << ran.err;
        EXPECT_FALSE(fs::exists(job));
    };
    refused("", "is empty");
    refused("hello", "is not a DXF drawing");
    refused(std::string("\x89PNG\r\n\x1a\n\0\0", 10), "is not a DXF drawing");
    refused("AC1032\0\0\0", "save it as DXF");
    refused(example.substr(0, example.size() / 2), "cut short");
    refused("  0\nSECTION\n  2\nENTITIES\n  0\nENDSEC\n  0\nEOF\n", "shows no circle", "--units mm");
    refused("  0\nSECTION\n  2\nENTITIES\n  0\nCIRCLE\n 10\n1\n 20\n2\n 40\n50\n  0\nENDSEC\n  0\nEOF\n",
            "shows no seat", "--units mm");
    refused(example, "say that it is in millimetres", "--units in");
    auto asked = example;
    asked.replace(asked.find("$INSUNITS"), 9, "$INSUNITZ");
    refused(asked, "say whether it is mm or inches");
    auto number = example;
    number.replace(number.find("\n 40\n") + 5, 2, "x1");
    refused(number, "a number is expected");
    const std::string binary = std::string("DRAWING Binary DXF\r\n\x1a\0", 22);
    refused(binary + std::string("\0\0SECTION", 9), "without its end");
    refused(binary + std::string("\0\0SECTION\0\2\0HEADER\0\x28\0abc", 25), "cut short");
    // Blocks within blocks: a bomb, and one within itself.
    std::string bomb = "  0\nSECTION\n  2\nBLOCKS\n";
    for (int k = 0; k < 12; ++k) {
        bomb += "  0\nBLOCK\n  2\nB" + std::to_string(k) + "\n";
        for (int n = 0; n < 10; ++n) bomb += "  0\nINSERT\n  2\nB" + std::to_string(k + 1) + "\n";
        bomb += "  0\nENDBLK\n";
    }
    bomb += "  0\nBLOCK\n  2\nB12\n  0\nCIRCLE\n 40\n4\n  0\nENDBLK\n  0\nENDSEC\n";
    const std::string use = "  0\nSECTION\n  2\nENTITIES\n  0\nINSERT\n  2\nB0\n  0\nENDSEC\n  0\nEOF\n";
    refused(bomb + use, "a head has far fewer", "--units mm");
    const std::string itself =
        "  0\nSECTION\n  2\nBLOCKS\n  0\nBLOCK\n  2\nB0\n  0\nINSERT\n  2\nB0\n  0\nENDBLK\n  0\nENDSEC\n";
    refused(itself + use, "set into itself", "--units mm");
    EXPECT_EQ(run("drawing " + (scratch.path() / "none.dxf").string() + " --out " + job).status, 2);
    EXPECT_EQ(run("drawing " + (scratch.path() / "none.dxf").string()).status, 2);
}

TEST(DrawingCommand, APersonNamesWhatTheDrawingLeavesOpen) {
    const Scratch scratch;
    const std::string job = scratch.path() / "job.toml";
    const std::string deck = std::string(places::root) + "/examples/drawing/deck.dxf";
    const auto plain = run("drawing " + deck + " --json --out " + job);
    ASSERT_EQ(plain.status, 0) << plain.err;
    const auto json = Json::parse(plain.out);
    std::string intakes, bolts;
    for (const auto& g : json["groups"]) {
        if (g["what"] == "intake valves") intakes = g["group"];
        if (g["what"] == "bolt holes") bolts = g["group"];
    }
    ASSERT_FALSE(intakes.empty());
    const auto named = Json::parse(run("drawing " + deck + " --json --out " + job + " --name " + intakes +
                                       "=exhaust --name " + bolts + "=other")
                                       .out);
    for (const auto& v : named["valves"])
        if (v["group"] == intakes) {
            EXPECT_EQ(v["kind"], "exhaust");
        }
    EXPECT_TRUE(named["head"]["bolt_holes"].empty() ||
                named["head"]["bolt_hole_diameter"] != json["head"]["bolt_hole_diameter"]);
    EXPECT_EQ(run("drawing " + deck + " --out " + job + " --name ZZ=bolt").status, 2);
    EXPECT_EQ(run("drawing " + deck + " --out " + job + " --name A=what").status, 2);
    // Seen from the other side y changes sign; end for end both do, from the other end.
    const auto above = Json::parse(run("drawing " + deck + " --json --from-above --out " + job).out);
    const auto turned = Json::parse(run("drawing " + deck + " --json --end-for-end --out " + job).out);
    const auto last = json["valves"].back()["cylinder"].get<int>();
    EXPECT_EQ(turned["valves"].size(), json["valves"].size());
    EXPECT_EQ(turned["valves"].back()["cylinder"], last);
    const double x = json["valves"][0]["x_mm"], y = json["valves"][0]["y_mm"];
    EXPECT_LT(nearest(above["valves"], x, -y).second, same_place);
    const double far = json["repeats"].empty() ? 0.0 : [&] {
        for (const auto& r : json["repeats"])
            if (r["what"] == "bore spacing") return r["value_mm"].get<double>() * (last - 1);
        return 0.0;
    }();
    EXPECT_LT(nearest(turned["valves"], far - x, -y).second, same_place);
}

TEST(DrawingCommand, LaidOverAnotherDescriptionOfTheHead) {
    const Scratch scratch;
    const std::string deck = std::string(places::root) + "/examples/drawing/deck.dxf";
    const std::string first = scratch.path() / "first.toml", second = scratch.path() / "second.toml";
    ASSERT_EQ(run("drawing " + deck + " --out " + first).status, 0);
    const auto over = Json::parse(
        run("drawing " + deck + " --end-for-end --json --out " + second + " --over " + first).out)["over"];
    EXPECT_EQ(over["way"], "end for end");
    EXPECT_LT(over["bolts_worst_mm"].get<double>(), 1e-6);
    EXPECT_LT(over["guides_worst_mm"].get<double>(), 1e-6);
    EXPECT_EQ(over["guides"][0]["of_other"], "3Ib");
    const auto said = run("drawing " + deck + " --out " + second + " --over " + first);
    EXPECT_NE(said.out.find("lies on this one as declared"), std::string::npos) << said.out;
    // A survey of another head: nothing comes together, or far too little.
    const auto other =
        run("survey " + std::string(places::root) + "/examples/survey/readings.toml --json --out " +
            (scratch.path() / "s.toml").string() + " --over " + first);
    EXPECT_EQ(other.status, 0) << other.err;
    const auto none = Json::parse(other.out);
    EXPECT_TRUE(none["over"].is_null() || none["over"]["bolts"].size() < 8);
    EXPECT_EQ(run("drawing " + deck + " --out " + second + " --over nothing.toml").status, 2);
}

}  // namespace
}  // namespace seatwright::outside
