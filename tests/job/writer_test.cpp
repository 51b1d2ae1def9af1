// What is written reads back as what was meant.
#include "seatwright/job/writer.hpp"

#include <gtest/gtest.h>

#include <random>

#include "job/full_job.hpp"
#include "job/same_job.hpp"
#include "seatwright/job/key_tree.hpp"
#include "seatwright/job/needs.hpp"
#include "seatwright/job/reader.hpp"
#include "seatwright/job/text.hpp"
#include "seatwright/toml/path.hpp"

namespace seatwright::job {
namespace {

Job written_job(const std::string& text) {
    auto job = read_job(text, "w.toml", {});
    if (job) return *job;
    for (const auto& f : job.error()) ADD_FAILURE() << to_line(f);
    return {};
}

TEST(Writer, ReadingsGoThereAndBackInBothUnits) {
    std::mt19937 random(7);
    std::uniform_real_distribution<double> number(0.01, 40);
    for (const auto units : {LengthUnit::mm, LengthUnit::inch}) {
        Readings r;
        for (int i = 0; i < 20; ++i) {
            Touch t{"h\"1\\", "1I", {number(random), -number(random)}, {}, 0};
            if (i % 2) t.sd = number(random);
            t.keep = i % 2 == 1;
            t.date = "2026-01-30";
            r.touches.push_back(t);
            Level l{"2", "1I", i % 2 ? Across::cant : Across::incline, number(random) / 40, {}, 0};
            if (i % 3) l.second = -number(random) / 40;
            r.levels.push_back(l);
            r.guides.push_back({"1", "1I", number(random), number(random), number(random), 0});
            SeatBefore b;
            b.valve = "1I";
            if (i % 2) b.stem_height = number(random);
            if (i % 3) b.cleanup = number(random);
            b.chamber = 1000 * number(random);
            b.recession = -number(random);
            if (i % 4) b.section = {{1, -number(random)}, {2, 0}, {3.5, number(random)}};
            r.seats.push_back(b);
            SeatAfter a;
            a.valve = "1I";
            for (int k = 0; k < 8; ++k) a.trace.push_back(number(random) - 20);
            if (i % 2)
                for (int k = 0; k < 8; ++k) a.angles.push_back(k * 0.7);
            a.width = {number(random)};
            a.vacuum = number(random);
            a.by = "somebody \u00e9 \"x\"\n";
            a.gauge_u = number(random);
            a.resolution = number(random);
            a.date = "2026-01-31";
            a.gauge = "dial \"7\"";
            a.calibrated = "2025-12-01";
            a.cutter = "A2";
            a.accepted_by = "somebody else";
            a.vacuum_after = number(random);
            a.vacuum_seconds = 10;
            r.proofs.push_back(a);
        }
        std::string text = std::string("units = \"") + (units == LengthUnit::mm ? "mm" : "in") +
                           "\"\n[head]\n[[head.valve]]\nid = \"1I\"\nkind = \"intake\"\nx = 0\n";
        for (const auto& x : r.touches) text += to_toml(x, units);
        for (const auto& x : r.levels) text += to_toml(x, units);
        for (const auto& x : r.guides) text += to_toml(x, units);
        for (const auto& x : r.seats) text += to_toml(x, units);
        for (const auto& x : r.proofs) text += to_toml(x, units);
        test::SameJob(1e-11).readings(r, written_job(text).readings);
    }
}

TEST(Writer, StringsOfAnyBytesAreValidToml) {
    std::mt19937 random(9);
    for (int i = 0; i < 500; ++i) {
        std::string bytes;
        for (int k = 0; k < 12; ++k) bytes += static_cast<char>(random() % 256);
        const auto job = read_job("units = \"mm\"\ntitle = " + toml_string(bytes) +
                                      "\n[head]\n[[head.valve]]\nid = 1\nkind = \"intake\"\nx = 0\n",
                                  "w.toml", {});
        EXPECT_TRUE(job) << (job ? "" : to_line(job.error()[0])) << toml_string(bytes);
    }
    EXPECT_EQ(toml_string("a\"b\\c\n"), "\"a\\\"b\\\\c\\u000A\"");
}

TEST(Writer, NewJobsOfEveryKindReadAndNeedOnlyTheShop) {
    int jobs = 0;
    for (const auto units : {LengthUnit::mm, LengthUnit::inch})
        for (const int cylinders : {1, 3, 4, 6, 32})
            for (const int valves : {2, 3, 4, 5})
                for (const auto order : {Order::intake_first, Order::exhaust_first, Order::mirrored})
                    for (const double lean : {0.0, 16.0}) {
                        Answers a;
                        a.units = units;
                        a.cylinders = cylinders;
                        a.valves_per_cylinder = valves;
                        a.bore_spacing = 96;
                        a.order = order;
                        a.incline = {rad(lean), valves > 2 ? rad(-lean) : rad(lean)};
                        a.cant = {rad(lean / 8), rad(-lean / 8)};
                        const Job job = written_job(new_job(a));
                        ++jobs;
                        EXPECT_EQ(job.head.cylinders, cylinders);
                        EXPECT_EQ(job.head.valves.size(),
                                  static_cast<std::size_t>(cylinders * std::min(valves, 128 / cylinders)));
                        EXPECT_NEAR(*job.head.bore_spacing, 96, 0.0127);
                        EXPECT_TRUE(needs(job, Stage::shape).empty());
                        EXPECT_TRUE(job.assumptions.empty());
                        for (const auto& v : job.head.valves)
                            EXPECT_NEAR(std::abs(v.incline), rad(lean), 1e-9);
                    }
    EXPECT_EQ(jobs, 240);
}

TEST(Writer, NewJobTakesTheSizesGivenAndSurvivesNonsense) {
    Answers a;
    a.head_diameter = {42.5, 36};
    a.stem_diameter = {8, 7};
    a.bore_spacing = 112;
    a.shop = "";
    const Job job = written_job(new_job(a));
    EXPECT_NEAR(job.valve.intake->head_diameter, 42.5, 1e-9);
    EXPECT_NEAR(job.valve.exhaust->head_diameter, 36, 1e-9);
    EXPECT_NEAR(*job.valve.intake->stem_diameter, 8, 1e-9);
    EXPECT_NEAR(*job.valve.exhaust->stem_diameter, 7, 1e-9);
    EXPECT_EQ(job.head.valves[0].id, "1E");
    a.order = Order::intake_first;
    EXPECT_EQ(written_job(new_job(a)).head.valves[0].id, "1I");
    Answers wild;
    wild.title = "x\"\n[evil]\n";
    wild.cylinders = -5;
    wild.bore_spacing = std::nan("");
    wild.valves_per_cylinder = 900;
    wild.incline = {1e9, -1e9};
    wild.cant = {std::nan(""), 0};
    wild.head_diameter = {1e300, -4};
    wild.stem_diameter = {-1, std::nan("")};
    wild.seat_angle = {1e9, -4};
    wild.seat_width = {0.0, std::nan("")};
    const Job read = written_job(new_job(wild));
    EXPECT_TRUE(read.head.made_up("valve.intake.head_diameter")) << "brought into its range, nobody gave it";
    EXPECT_TRUE(read.head.made_up("seat.exhaust.width"));
}

TEST(Writer, ASmallHeadThatWasAnsweredStaysWhatItIs) {
    Answers a;
    a.head_diameter = {8.5, 36};
    const Job job = written_job(new_job(a));
    EXPECT_NEAR(job.valve.intake->head_diameter, 8.5, 1e-9);
    EXPECT_FALSE(job.head.made_up("valve.intake.head_diameter"));
    EXPECT_LE(*job.valve.intake->stem_diameter, 8.5 / 1.6);
    EXPECT_NEAR(*job.valve.exhaust->stem_diameter, 8, 1e-9) << "the usual one";
}

// Whatever figure stands in the text was answered, or is named as made up: no list of them is kept by hand.
TEST(Writer, EveryFigureOfANewJobThatNobodyGaveIsMadeUp) {
    Answers a;
    a.valves_per_cylinder = 4;
    const auto text = new_job(a);
    const Job none = written_job(text);
    for (const char* key : {"head.bolt_holes[0]",
                            "head.bolt_hole_diameter",
                            "head.pattern.valve[3].z",
                            "head.pattern.valve[0].incline",
                            "head.pattern.valve[1].cant",
                            "guide.exhaust.bore",
                            "guide.intake.length",
                            "guide.intake.to_seat",
                            "guide.exhaust.mouth",
                            "seat.intake.runout_max",
                            "seat.intake.top[0].width",
                            "seat.exhaust.throat[0].angle",
                            "seat.intake.inset",
                            "seat.intake.angle",
                            "valve.intake.face_angle",
                            "valve.exhaust.stem_diameter",
                            "valve.intake.head_diameter",
                            "find.touch_sd",
                            "find.yaw_sd",
                            "depth.step"})
        EXPECT_TRUE(none.head.made_up(key)) << key;
    EXPECT_FALSE(none.head.made_up("head.pattern.bore_spacing"));
    // Each is one figure of the text, and leaves when it is typed.
    const auto document = read_text(text);
    for (const auto& key : none.head.assumed) {
        EXPECT_TRUE(key_at(key)) << key;
        const auto path = toml::parse_path(key);
        EXPECT_TRUE(path && toml::find(document.root(), *path)) << key;
    }
    a.incline = {rad(20), std::nullopt};
    a.head_diameter = {42.5, std::nullopt};
    a.stem_diameter = {std::nullopt, 7};
    a.seat_angle = {rad(46), std::nullopt};
    a.seat_width = {1.5, std::nullopt};
    const Job some = written_job(new_job(a));
    for (const char* key :
         {"head.pattern.valve[0].incline", "head.pattern.valve[1].incline", "valve.intake.head_diameter",
          "valve.exhaust.stem_diameter", "seat.intake.angle", "seat.intake.width"})
        EXPECT_FALSE(some.head.made_up(key)) << key;
    EXPECT_EQ(none.head.assumed.size(), some.head.assumed.size() + 6);
    EXPECT_NEAR(some.seat.intake->width, 1.5, 1e-9);
    EXPECT_NEAR(some.seat.intake->throat[0].angle, rad(61), 1e-9);
    EXPECT_TRUE(some.head.made_up("valve.intake.stem_diameter")) << "the other kind's, not its own";
}

// The trade's rule: with shared bolt columns the posts stand n spacings apart for n cylinders (common
// practice).
TEST(Writer, NewJobHasSharedBoltColumns) {
    Answers a;
    a.cylinders = 4;
    a.bore_spacing = 112;
    const Job job = written_job(new_job(a));
    EXPECT_NEAR((job.head.bolt_holes[4] - job.head.bolt_holes[0]).norm(), 4 * 112, 1e-9);
}

}  // namespace
}  // namespace seatwright::job
