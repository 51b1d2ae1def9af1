// The demonstration jobs and the shelf read without faults, need nothing, and keep their kinds.
#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <set>
#include <sstream>

#include "places.hpp"
#include "seatwright/job/needs.hpp"
#include "seatwright/job/reader.hpp"

namespace seatwright::job {
namespace {

tl::expected<std::string, std::string> slurp(const std::filesystem::path& path) {
    std::ifstream file(path);
    if (!file) return tl::unexpected(std::string("no such file"));
    std::stringstream text;
    text << file.rdbuf();
    return text.str();
}

Job example(const std::string& name) {
    const auto path = std::filesystem::path(places::root) / "examples" / name / "job.toml";
    const auto text = slurp(path);
    EXPECT_TRUE(text) << path;
    if (!text) return {};
    auto job = read_job(*text, "job.toml",
                        [&](const std::string& shop) { return slurp(path.parent_path() / shop); });
    if (job) return *job;
    for (const auto& fault : job.error()) ADD_FAILURE() << to_line(fault);
    return {};
}

TEST(Examples, ReadWithoutFaultsAndNeedNothing) {
    for (const char* name : {"wedge", "pent-roof", "canted"}) {
        const Job job = example(name);
        for (const auto stage : {Stage::hold, Stage::find, Stage::shape, Stage::cut, Stage::prove})
            for (const auto& fault : needs(job, stage)) ADD_FAILURE() << name << ": " << to_line(fault);
        EXPECT_TRUE(job.assumptions.empty()) << name;
        EXPECT_GE(job.readings.touches.size(), 6u) << name;
        EXPECT_GE(job.readings.levels.size(), 2u) << name;
        EXPECT_EQ(job.readings.guides.size(), job.head.valves.size()) << name;
        EXPECT_EQ(job.readings.seats.size(), job.head.valves.size()) << name;
        EXPECT_GE(job.readings.proofs.size(), job.head.valves.size()) << name;
        EXPECT_GE(job.materials.size(), 8u) << name;
        EXPECT_GE(job.fixtures.size(), 4u) << name;
    }
}

TEST(Examples, AreThreeKindsOfHead) {
    const auto directions = [](const Job& job) {
        std::set<std::pair<long, long>> out;
        for (const auto& v : job.head.valves)
            out.emplace(std::lround(deg(v.incline) * 1000), std::lround(deg(v.cant) * 1000));
        return out.size();
    };
    EXPECT_EQ(directions(example("wedge")), 1u);
    EXPECT_EQ(directions(example("pent-roof")), 2u);
    EXPECT_EQ(directions(example("canted")), 4u);
    EXPECT_EQ(example("wedge").units, LengthUnit::inch);
    EXPECT_EQ(example("pent-roof").head.valves.size(), 16u);
}

// Common practice: with shared bolt columns the outer bolt span of n bores is n spacings.
TEST(Examples, OuterBoltSpanIsFourBoreSpacings) {
    for (const char* name : {"wedge", "pent-roof", "canted"}) {
        const Job job = example(name);
        const auto& holes = job.head.bolt_holes;
        ASSERT_EQ(holes.size(), 10u) << name;
        EXPECT_NEAR((holes[4] - holes[0]).norm(), 4 * *job.head.bore_spacing, 1e-9) << name;
    }
}

// One valve set on every seat stands as much higher than drawn as the seat lies lower (working.md B4).
TEST(Examples, StemHeightsWithASettingValveTellTheRecessions) {
    for (const char* name : {"wedge", "pent-roof", "canted"}) {
        const Job job = example(name);
        std::size_t both = 0, told = 0;
        for (const auto& read : job.readings.seats) {
            const auto& form = *job.seat[job.head.valves.at(*job.head.index_of(read.valve)).kind];
            ASSERT_TRUE(read.stem_height && form.stem_height) << name << " " << read.valve;
            EXPECT_EQ(read.valve_used, SeatBefore::ValveUsed::setting) << name << " " << read.valve;
            const double sunk = *read.stem_height - *form.stem_height;
            EXPECT_GE(sunk, 0) << name << " " << read.valve;
            EXPECT_LT(sunk, 1) << name << " " << read.valve;
            if (read.recession) {
                EXPECT_NEAR(sunk, *read.recession, 1e-9) << name << " " << read.valve;
                ++both;
            }
            // Its cutter's Z0 was on a seat of the same row: what it shows is that seat's recession less its
            // own; 3Ia of the pent roof lies 0.12 low.
            if (read.rest_z) {
                EXPECT_NEAR(sunk, 0.12 - *read.rest_z, 1e-9) << name << " " << read.valve;
                ++told;
            }
        }
        const std::string which = name;
        EXPECT_EQ(both, which == "wedge" ? 0u : which == "canted" ? 8u : 9u) << name;
        EXPECT_EQ(told, which == "pent-roof" ? 7u : 0u) << name;
    }
}

// No stem or guide comes near another over its whole length: points of both axes every millimetre.
TEST(Examples, GuidesStandApart) {
    for (const char* name : {"wedge", "pent-roof", "canted"}) {
        const Job job = example(name);
        for (const auto& a : job.head.valves)
            for (const auto& b : job.head.valves) {
                if (&a == &b) continue;
                const auto reach = [&](const Valve& v) {
                    return *job.guide[v.kind]->to_seat + *job.guide[v.kind]->length;
                };
                double least = 1e300;
                for (double s = 0; s <= reach(a); s += 1)
                    for (double t = 0; t <= reach(b); t += 1)
                        least = std::min(least, (a.seat - s * a.axis() - b.seat + t * b.axis()).norm());
                EXPECT_GT(least, 15) << name << " " << a.id << " " << b.id;
            }
    }
}

// What a carried pilot asks for stands on the shelf; the lowest edge of a blade is half its face and its
// throat facet under the gauge plane.
TEST(Examples, TheShelfSaysHowPilotsAndCuttersStand) {
    const Job job = example("wedge");
    std::size_t tapered = 0;
    for (const auto& pilot : job.pilots) {
        ASSERT_TRUE(pilot.reach) << pilot.name;
        if (pilot.style != PilotStyle::tapered) continue;
        ++tapered;
        ASSERT_TRUE(pilot.gauge_at && pilot.slide) << pilot.name;
        EXPECT_GT(*pilot.reach, *pilot.gauge_at) << pilot.name;
        EXPECT_GT(*pilot.slide, 2 * 2 * 0.002 / pilot.taper) << pilot.name;  // where it locks is known to ± 8
    }
    EXPECT_GE(tapered, 15u);
    for (const auto& cutter : job.cutters) {
        ASSERT_TRUE(cutter.drop && cutter.lowest && cutter.body) << cutter.name;
        const auto &throat = cutter.facets[0], &face = cutter.facets[1];
        EXPECT_NEAR(*cutter.lowest,
                    throat.width * std::sin(throat.angle) + face.width / 2 * std::sin(face.angle), 1e-3)
            << cutter.name;
    }
    for (const char* name : {"wedge", "pent-roof", "canted"})
        for (const auto kind : both_kinds) EXPECT_TRUE(example(name).guide[kind]->below) << name;
}

}  // namespace
}  // namespace seatwright::job
