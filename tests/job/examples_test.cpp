// The demonstration jobs and the shelf read without faults, need nothing, and keep their kinds.
#include <gtest/gtest.h>

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

}  // namespace
}  // namespace seatwright::job
