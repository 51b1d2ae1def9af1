// The shape stage's papers: JSON by the contract's keys, text, drawings, and DXF read back group by group.
#include <gtest/gtest.h>

#include <cstdlib>
#include <fstream>
#include <nlohmann/json.hpp>
#include <regex>
#include <sstream>

#include "job_fixtures.hpp"
#include "seatwright/papers/bundle.hpp"
#include "seatwright/papers/drawings/draw_depths.hpp"
#include "seatwright/papers/drawings/draw_section.hpp"
#include "seatwright/papers/drawings/dxf.hpp"
#include "seatwright/papers/page/pdf.hpp"
#include "seatwright/report/report.hpp"
#include "seatwright/shape/section.hpp"

namespace seatwright::papers {
namespace {

using namespace report;

job::Job worn_job() {
    auto job = fixtures::wedge_job();
    job::Insert ring;
    ring.outside = 44;
    ring.inside = 33;
    ring.depth = 8;
    ring.interference = 0.06;
    job.seat.exhaust->insert = ring;
    job.depth.spring_shims = {0.381, 0.762};
    job.depth.swept = 580'000;
    int k = 0;
    for (const auto& v : job.head.valves) {
        job::SeatBefore r;
        r.valve = v.id;
        r.stem_height = 47.5 + 0.03 * (k % 3);
        r.recession = 0.1;
        r.chamber = 64'100;
        const auto s = shape::section_of(*job.valve[v.kind], *job.seat[v.kind]);
        for (int i = 0; i <= 30; ++i) {
            const double r_i =
                s.points.front().x() - 0.4 + (s.points.back().x() - s.points.front().x() + 0.8) * i / 30;
            const double t = (r_i - s.gauge / 2);
            r.section.emplace_back(r_i, 0.82 * t - 0.10 - 0.03 * (k % 4) + 0.02 * ((i * 7 + k) % 5));
        }
        if (k == 5) r.cleanup = 1.5;
        job.readings.seats.push_back(r);
        ++k;
    }
    return job;
}

TEST(ShapeJson, WhatIsNotKnownIsNullAndDecisionsHaveTheirWords) {
    auto job = worn_job();
    job.seat.intake->old_as_drawn = false;
    job.seat.intake->finish = job::Finish{std::nullopt, std::nullopt, 0.05};  // recession is 0.1
    job.seat.exhaust->finish = job::Finish{std::nullopt, std::nullopt, 0.4};
    job.depth.to = job::DepthTo::height;
    const auto height = json_of(job, shape::design(job, {}, {}, "1"))["seats"];
    EXPECT_EQ(height[1]["decision"], "below finish");
    EXPECT_NEAR(height[1]["depth_mm"].get<double>(), -0.05, 1e-12);
    EXPECT_EQ(height[0]["decision"], "cut");
    EXPECT_NEAR(height[0]["stop_s_mm"].get<double>(), -0.4, 1e-12);
    EXPECT_EQ(height[0]["height_from"], "recession");
    job.depth.to = job::DepthTo::cleanup;
    job.readings.seats[1].recession.reset();
    const auto cleanup = json_of(job, shape::design(job, {}, {}, "1"))["seats"];
    EXPECT_EQ(cleanup[1]["decision"], "not measured");
    for (const char* key : {"depth_mm", "z_mm", "program_z_mm", "stem_height_after_mm", "recession_mm"})
        EXPECT_TRUE(cleanup[1][key].is_null()) << key;
}

TEST(ShapeJson, HasTheContractsKeysAndUnits) {
    const auto job = worn_job();
    const auto shape = shape::design(job, {}, {}, "1");
    const auto json = json_of(job, shape);
    ASSERT_EQ(json["seats"].size(), 8u);
    for (const char* key :
         {"id", "contact_od_mm", "contact_id_mm", "gauge_mm", "section_mm", "cutter", "blade_setting_mm",
          "cleanup_mm", "depth_mm", "z_mm", "stem_height_after_mm", "recession_added_mm", "removed_mm3",
          "bridge_mm", "bridge_to", "insert_wall_mm", "tip_grind_mm", "spring_shim_mm", "decision"})
        EXPECT_TRUE(json["seats"][0].contains(key)) << key;
    for (const char* key : {"total_mm", "stem_spread_mm", "chamber_spread_cm3", "feasible", "conflict"})
        EXPECT_TRUE(json["depth"].contains(key)) << key;
    for (const char* key : {"id", "pressure_mpa", "pressure_hot_mpa", "hold_force_n", "hoop_mpa",
                            "insert_temp_c", "head_temp_c"})
        EXPECT_TRUE(json["inserts"][0].contains(key)) << key;
    for (const char* key : {"kind", "facet_deg", "width_per_depth"})
        EXPECT_TRUE(json["sensitivity"][0].contains(key)) << key;
    EXPECT_EQ(json["seats"][5]["decision"], "insert");
    EXPECT_TRUE(json["seats"][5]["depth_mm"].is_null());
    EXPECT_FALSE(json["depth"]["feasible"].get<bool>());
    EXPECT_NEAR(json["depth"]["chamber_spread_cm3"].get<double>() * 1000, *shape.depth.chamber_spread, 1e-9);
    // Radii rise from the throat outward.
    const auto& section = json["seats"][0]["section_mm"];
    for (std::size_t i = 1; i < section.size(); ++i) EXPECT_GT(section[i][0], section[i - 1][0]);
}

TEST(ShapeJson, ABatchTellsItsCommonHeight) {
    auto job = worn_job();
    EXPECT_TRUE(json_of(job, shape::design(job, {}, {}, "1"))["depth"]["batch"].is_null());
    job.depth.plan = job::DepthPlanning::together;
    const auto shape = shape::design(job, {}, {}, "1");
    const auto batch = json_of(job, shape)["depth"]["batch"];
    EXPECT_EQ(batch["heads"], std::vector<std::string>{"1"});
    for (const char* kind : {"intake", "exhaust"}) {
        EXPECT_GE(batch["common_stem_mm"][kind].get<double>(), 47.5);
        EXPECT_LE(batch["stem_spread_mm"][kind].get<double>(), 0.3 + 1e-9);
    }
    EXPECT_EQ(batch["total_mm"], json_of(job, shape)["depth"]["total_mm"]);
    EXPECT_NE(text_of(job, shape, {}).find("planned together: 1 head"), std::string::npos);
}

TEST(ShapeText, SpeaksTheUnitAskedFor) {
    const auto job = worn_job();
    const auto shape = shape::design(job, {}, {}, "1");
    TextStyle style;
    const auto mm = text_of(job, shape, style);
    style.unit = LengthUnit::inch;
    const auto inch = text_of(job, shape, style);
    EXPECT_NE(mm.find("43.500"), std::string::npos);
    EXPECT_NE(inch.find("1.7126"), std::string::npos);
    EXPECT_NE(mm.find("NEW INSERT"), std::string::npos);
}

TEST(ShapeDrawings, RenderAndNameWhatTheyShow) {
    const auto job = worn_job();
    const auto shape = shape::design(job, {}, {}, "1");
    const auto order = draw_form_to_order(job, job::Kind::intake);
    ASSERT_TRUE(order);
    const std::pair<const char*, Drawing> all[] = {{"section", draw_section(job, shape.seats[0])},
                                                   {"section-intake", draw_section(job, shape.seats[1])},
                                                   {"depths", draw_depths(job, shape)},
                                                   {"order", *order}};
    const char* keep = std::getenv("SEATWRIGHT_KEEP_DRAWINGS");  // a folder, to look at them
    for (const auto& [name, drawing] : all) {
        const auto svg = drawing.document();
        EXPECT_EQ(svg.find("nan"), std::string::npos) << name;
        const auto pdf = pdf_of({svg}, a4, name);
        ASSERT_TRUE(pdf) << name << ": " << pdf.error();
        if (keep) std::ofstream(std::string(keep) + "/shape-" + name + ".pdf", std::ios::binary) << *pdf;
    }
    EXPECT_NE(all[0].second.document().find("Seat 1E in section"), std::string::npos);
    EXPECT_NE(all[0].second.document().find("lengths in mm"), std::string::npos);
    SectionStyle inches;
    inches.unit = LengthUnit::inch;
    EXPECT_NE(draw_section(job, shape.seats[0], inches).document().find("lengths in inch"),
              std::string::npos);
    EXPECT_NE(all[3].second.document().find("Form to order"), std::string::npos);
    auto bare = job;
    bare.valve.intake.reset();
    EXPECT_FALSE(draw_form_to_order(bare, job::Kind::intake));
}

// Where each text of `svg` that begins with the sign of a diameter stands, mm, and how wide it is at the
// least: half its size a letter.
struct Label {
    double x, y, half;
};
std::vector<Label> diameter_labels(const std::string& svg) {
    static const std::regex text(R"re(<text x="([-\d.]+)" y="([-\d.]+)"[^>]*>(Ø [\d.]+)</text>)re");
    std::vector<Label> out;
    for (auto it = std::sregex_iterator(svg.begin(), svg.end(), text); it != std::sregex_iterator(); ++it)
        out.push_back({std::stod((*it)[1]), std::stod((*it)[2]),
                       0.25 * 2.4 * static_cast<double>((*it)[3].length() - 1)});
    return out;
}

TEST(ShapeDrawings, DiametersOfNarrowFacetsStandClearOfEachOther) {
    auto job = worn_job();
    job.seat.intake->top = {{rad(30), 0.6}, {rad(15), 0.5}};
    job.seat.intake->throat = {{rad(60), 0.5}, {rad(70), 0.6}, {rad(75), 0.8}};
    SectionStyle style;
    style.unit = LengthUnit::inch;
    const auto labels = diameter_labels(draw_form_to_order(job, job::Kind::intake, style)->document());
    ASSERT_EQ(labels.size(), 7u);
    for (std::size_t i = 0; i < labels.size(); ++i)
        for (std::size_t j = 0; j < i; ++j) {
            const bool one_row = std::abs(labels[i].y - labels[j].y) < 2.4;
            EXPECT_TRUE(!one_row || std::abs(labels[i].x - labels[j].x) >= labels[i].half + labels[j].half)
                << i << " on " << j;
        }
}

// Release 12 DXF as its published group codes say: pairs of code and value, 0 names an entity, 10/20 and
// 11/21 its points.
TEST(ShapeDxf, ReadsBackAsTheForm) {
    const auto job = worn_job();
    const auto text = dxf_form_to_order(job, job::Kind::intake);
    ASSERT_TRUE(text);
    std::istringstream in(*text);
    std::string code, value, entity, layer, last;
    std::vector<std::array<double, 4>> edges;
    std::array<double, 4> now{};
    int pairs = 0;
    while (std::getline(in, code) && std::getline(in, value)) {
        ++pairs;
        const int c = std::stoi(code);
        if (c == 0) {
            if (entity == "LINE" && layer == "EDGE") edges.push_back(now);
            entity = last = value;
        }
        if (c == 8) layer = value;
        if (c == 10) now[0] = std::stod(value);
        if (c == 20) now[1] = std::stod(value);
        if (c == 11) now[2] = std::stod(value);
        if (c == 21) now[3] = std::stod(value);
        for (const char ch : value) EXPECT_TRUE(ch >= ' ' && ch <= '~');
    }
    EXPECT_EQ(last, "EOF");
    EXPECT_GT(pairs, 50);
    const auto section = shape::section_of(*job.valve.intake, *job.seat.intake);
    ASSERT_EQ(edges.size(), 2 * (section.points.size() - 1));
    for (std::size_t i = 0; i + 1 < section.points.size(); ++i) {
        EXPECT_NEAR(edges[2 * i][0], section.points[i].x(), 1e-6);
        EXPECT_NEAR(edges[2 * i][1], section.points[i].y(), 1e-6);
        EXPECT_NEAR(edges[2 * i][2], section.points[i + 1].x(), 1e-6);
        EXPECT_NEAR(edges[2 * i + 1][0], -section.points[i].x(), 1e-6);
    }
}

std::vector<std::string> forms_in(const Bundle& bundle) {
    std::vector<std::string> names;
    for (const auto& file : bundle.files)
        if (file.name.starts_with("form-")) names.push_back(file.name);
    return names;
}

const std::string& bytes_of(const Bundle& bundle, const std::string& name) {
    static const std::string none;
    for (const auto& file : bundle.files)
        if (file.name == name) return file.bytes;
    return none;
}

// A shelf that cuts the exhausts alone leaves the intakes' form to be ordered, and nothing else.
TEST(ShapeBundle, FormToOrderWhereTheShelfHasNoCutter) {
    auto job = fixtures::wedge_job(1);
    const auto fits = plan_bundle(job, plan::make_plan(job), {}, {});
    ASSERT_TRUE(fits) << fits.error();
    EXPECT_TRUE(forms_in(*fits).empty());

    job.seat.intake->top = {{rad(22), 1.0}};
    const auto one = plan_bundle(job, plan::make_plan(job), {}, {});
    ASSERT_TRUE(one) << one.error();
    EXPECT_EQ(forms_in(*one),
              (std::vector<std::string>{"form-intake.svg", "form-intake.pdf", "form-intake.dxf"}));
    EXPECT_TRUE(one->stopped);
    EXPECT_NE(bytes_of(*one, "form-intake.svg").find("Form to order"), std::string::npos);
    EXPECT_TRUE(bytes_of(*one, "form-intake.pdf").starts_with("%PDF-"));
    EXPECT_EQ(bytes_of(*one, "form-intake.dxf"), *dxf_form_to_order(job, job::Kind::intake));

    job.cutters.clear();
    const auto none = plan_bundle(job, plan::make_plan(job), {}, {});
    ASSERT_TRUE(none) << none.error();
    EXPECT_EQ(forms_in(*none).size(), 6u);

    job.seat.intake->cut_allowed = false;  // nothing to cut, nothing to order
    const auto forbidden = plan_bundle(job, plan::make_plan(job), {}, {});
    ASSERT_TRUE(forbidden) << forbidden.error();
    EXPECT_EQ(forms_in(*forbidden).size(), 3u);
}

}  // namespace
}  // namespace seatwright::papers
