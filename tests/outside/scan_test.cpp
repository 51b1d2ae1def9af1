// The scan command as a person runs it: an invented cloud in every format to a job that reads, the contract's
// keys, units told, inferred and wrong, and files that are no scan.
#include <gtest/gtest.h>

#include <fmt/format.h>

#include <Eigen/Geometry>
#include <cmath>
#include <nlohmann/json.hpp>
#include <tuple>

#include "outside/program.hpp"
#include "scan/files.hpp"
#include "scan/made_head.hpp"
#include "survey/simulated.hpp"

namespace seatwright::outside {
namespace {

using Json = nlohmann::json;
namespace made = scan::made;

std::vector<Vec3> cloud(double unit = 1) {
    made::Rng rng(1);
    made::Form form;
    form.cylinders = 3;
    const auto head = made::head_of(form);
    auto points = made::cloud_of(head, made::evenly_over(head.surfaces, 100'000, rng), {0.02, 0.2, 0}, rng);
    const Eigen::AngleAxisd turn(0.4, Vec3(0.3, 0.5, 0.8).normalized());
    for (auto& p : points) p = (turn * p + Vec3(700, -90, 300)) / unit;
    return points;
}

void expect_head(const Ran& ran) {
    ASSERT_EQ(ran.status, 0) << ran.err << ran.out.substr(0, 2000);
    const auto json = Json::parse(ran.out);
    for (const char* key : {"seatwright", "job", "warnings", "assumptions", "head", "valves", "holes",
                            "repeats", "missing", "deck", "points", "inliers", "seconds"})
        EXPECT_TRUE(json.contains(key)) << key;
    EXPECT_NEAR(json["deck"]["rms_mm"].get<double>(), 0.02, 0.002);
    ASSERT_EQ(json["valves"].size(), 6U);
    made::Form form;
    form.cylinders = 3;
    const auto truth = made::head_of(form);
    const Vec3 origin = (truth.valves[0].gauge + truth.valves[1].gauge) / 2;
    for (const auto& t : truth.valves)
        for (const auto& v : json["valves"]) {
            for (const char* key :
                 {"id", "kind", "x_mm", "y_mm", "z_mm", "incline_deg", "cant_deg", "u_xy_mm", "u_z_mm",
                  "u_angle_deg", "bore_mm", "gauge_mm", "seat_angle_deg", "setup"})
                EXPECT_TRUE(v.contains(key)) << key;
            if (v["id"] != t.id) continue;
            EXPECT_NEAR(v["x_mm"].get<double>(), t.gauge.x() - origin.x(), 0.02) << t.id;
            EXPECT_NEAR(v["y_mm"].get<double>(), t.gauge.y() - origin.y(), 0.02) << t.id;
            EXPECT_NEAR(v["z_mm"].get<double>(), t.gauge.z(), 0.08) << t.id;
            EXPECT_NEAR(v["incline_deg"].get<double>(), deg(t.incline), 0.02) << t.id;
            EXPECT_NEAR(v["bore_mm"].get<double>(), t.bore, 0.01) << t.id;
            EXPECT_NEAR(v["gauge_mm"].get<double>(), t.gauge_diameter, 0.2) << t.id;
        }
    std::size_t bolts = 0;
    for (const auto& h : json["holes"]) bolts += h["what"] == "bolt" ? 1 : 0;
    EXPECT_EQ(bolts, 8U);
    EXPECT_EQ(json["head"]["bolt_holes"].size(), 8U);
}

TEST(ScanCommand, EveryFormatToAJobThatReads) {
    const Scratch scratch;
    const auto points = cloud();
    const auto job = (scratch.path() / "job.toml").string();
    for (const auto& [name, bytes] :
         {std::pair{"head.ply", made::as_ply(points, made::Ply::little)},
          std::pair{"head.stl", made::as_stl(points)}, std::pair{"head.xyz", made::as_xyz(points)},
          std::pair{"head.obj", made::as_obj(points)}}) {
        SCOPED_TRACE(name);
        const auto file = scratch.write(name, bytes);
        expect_head(run("scan " + file.string() + " --out " + job + " --json"));
        EXPECT_EQ(run("check " + job).status, 0);
    }
    // Hold takes what is seen.
    const auto held = run("hold " + job + " --json");
    EXPECT_TRUE(held.status == 0 || held.status == 3) << held.err;
}

// One head, scanned, drawn and surveyed: each laid over another by the bolt pattern, and how far they are
// off.
TEST(ScanCommand, ScanDrawingAndSurveyOfOneHeadLieOnEachOther) {
    const Scratch scratch;
    made::Form form;
    form.cylinders = 3;
    const auto truth = made::head_of(form);
    const auto path = [&](const char* name) { return (scratch.path() / name).string(); };
    const auto cloud_file = scratch.write("head.ply", made::as_ply(cloud(), made::Ply::little)).string();
    ASSERT_EQ(run("scan " + cloud_file + " --out " + path("scan.toml")).status, 0);

    std::string dxf = "  0\nSECTION\n  2\nENTITIES\n";
    const auto circle = [&](double x, double y, double radius) {
        dxf += fmt::format("  0\nCIRCLE\n 10\n{:.9f}\n 20\n{:.9f}\n 40\n{:.9f}\n", x, y, radius);
    };
    survey::simulated::Head head;
    for (const auto& v : truth.valves) {
        circle(v.gauge.x(), v.gauge.y(), v.gauge_diameter / 2);
        circle(v.gauge.x(), v.gauge.y(), v.bore / 2);
        survey::simulated::Guide guide{
            v.id, {v.gauge.x(), v.gauge.y(), v.gauge.z()}, deg(v.incline), deg(v.cant), 0};
        guide.direction = static_cast<int>(std::lround(100 * guide.incline + guide.cant));
        head.guides.push_back(guide);
    }
    head.hole_radius = truth.bolts[0].z();
    for (const bool front : {true, false})
        for (const auto& b : truth.bolts)
            if ((b.y() < 0) == front) head.holes.push_back({b.x(), b.y()});
    for (const auto& b : truth.bolts) circle(b.x(), b.y(), b.z());
    dxf += "  0\nENDSEC\n  0\nEOF\n";
    const auto drawn =
        run("drawing " + scratch.write("head.dxf", dxf).string() + " --units mm --json --out " +
            path("drawing.toml") + " --over " + path("scan.toml"));
    ASSERT_NE(drawn.status, 2) << drawn.err;
    survey::simulated::Normal normal(7);
    const survey::simulated::Sds sds;
    survey::simulated::Machine machine(head, sds, normal);
    survey::simulated::Procedure how;
    how.holes_a_setup = 4;
    const auto readings = scratch.write("readings.toml", machine.read(how).text).string();
    const auto read =
        run("survey " + readings + " --json --out " + path("survey.toml") + " --over " + path("scan.toml"));
    ASSERT_EQ(read.status, 0) << read.err;
    const auto both = run("survey " + readings + " --json --out " + path("survey.toml") + " --over " +
                          path("drawing.toml"));
    ASSERT_EQ(both.status, 0) << both.err;
    for (const auto& [ran, bolts, guides] :
         {std::tuple{&drawn, 8U, 0.1}, std::tuple{&read, 4U, 0.3}, std::tuple{&both, 4U, 0.3}}) {
        const auto over = Json::parse(ran->out)["over"];
        ASSERT_FALSE(over.is_null()) << ran->out.substr(0, 400);
        EXPECT_EQ(over["bolts"].size(), bolts) << over;
        EXPECT_LT(over["bolts_worst_mm"].get<double>(), 0.1) << over;
        EXPECT_LT(over["guides_worst_mm"].get<double>(), guides) << over;
        EXPECT_GT(over["bolts_rms_mm"].get<double>(), 0) << "two descriptions are never quite the same";
    }
}

TEST(ScanCommand, UnitsAreToldInferredOrRefused) {
    const Scratch scratch;
    const auto inches = scratch.write("inches.ply", made::as_ply(cloud(mm_per_inch), made::Ply::big, true));
    const auto job = (scratch.path() / "job.toml").string();
    for (const char* told : {"", " --units in"}) {
        const auto ran = run("scan " + inches.string() + told + " --out " + job + " --json");
        expect_head(ran);
        EXPECT_EQ(Json::parse(ran.out)["units_from"], *told == '\0' ? "inferred" : "told");
    }
    const auto wrong = run("scan " + inches.string() + " --units mm --out " + job);
    EXPECT_EQ(wrong.status, 2);
    EXPECT_NE(wrong.err.find("say that it is in inches"), std::string::npos) << wrong.err;
    const auto text = run("scan " + inches.string() + " --out " + job);
    EXPECT_EQ(text.status, 0) << text.err;
    EXPECT_NE(text.out.find("inches"), std::string::npos);
}

TEST(ScanCommand, WhatIsNoHeadIsRefusedInASentence) {
    const Scratch scratch;
    std::vector<Vec3> cube;
    made::Rng rng(2);
    for (int i = 0; i < 60'000; ++i) {
        Vec3 p(made::evenly(rng, 0, 200), made::evenly(rng, 0, 200), made::evenly(rng, 0, 200));
        p[i % 3] = i % 2 * 200;
        cube.push_back(p);
    }
    const auto job = scratch.path() / "job.toml";
    for (const auto& [name, bytes] :
         {std::pair{"cube.stl", made::as_stl(cube)},
          std::pair{"photo.stl", std::string("\xff\xd8\xff\xe0") + std::string(9000, 'x')},
          std::pair{"empty.ply", std::string()},
          std::pair{"few.xyz", made::as_xyz({{1, 2, 3}, {4, 5, 6}})}}) {
        const auto file = scratch.write(name, bytes);
        const auto ran = run("scan " + file.string() + " --out " + job.string());
        EXPECT_EQ(ran.status, 2) << name << ran.out;
        EXPECT_EQ(std::count(ran.err.begin(), ran.err.end(), '\n'), 1) << name << ran.err;
        EXPECT_FALSE(fs::exists(job)) << name;
    }
    EXPECT_EQ(run("scan " + (scratch.path() / "nowhere.stl").string() + " --out " + job.string()).status, 2);
    EXPECT_EQ(run("scan " + scratch.path().string() + " --out " + job.string()).status, 2);
}

}  // namespace
}  // namespace seatwright::outside
