// Reading good jobs: every key arrives where it belongs, in memory units.
#include "seatwright/job/reader.hpp"

#include <gtest/gtest.h>

#include "job/full_job.hpp"

namespace seatwright::job {
namespace {

Job good(const std::string& text, const Fetch& fetch = {}) {
    auto job = read_job(text, "a.toml", fetch);
    if (!job) {
        for (const auto& f : job.error()) ADD_FAILURE() << to_line(f);
        return {};
    }
    return *job;
}

TEST(JobReader, SmallestJob) {
    const auto job = good("units = \"mm\"\n[head]\n[[head.valve]]\nid=\"1I\"\nkind=\"intake\"\nx=1\n");
    ASSERT_EQ(job.head.valves.size(), 1u);
    EXPECT_EQ(job.head.valves[0].cylinder, 1);
}

TEST(JobReader, EveryKeyOfTheContractArrives) {
    const Job job = good(test::full_job);
    EXPECT_EQ(job.title, "invented full job");
    ASSERT_EQ(job.head.valves.size(), 5u);
    // Cylinder 2 is mirrored about x = 112: its intake lies at 112 + 22 with cant -2.
    EXPECT_EQ(job.head.valves[0].id, "1I");
    EXPECT_EQ(job.head.valves[1].id, "1E");
    EXPECT_EQ(job.head.valves[2].id, "2E");
    EXPECT_EQ(job.head.valves[3].id, "2I");
    EXPECT_EQ(job.head.valves[4].id, "X1");
    EXPECT_DOUBLE_EQ(job.head.valves[3].seat.x(), 134);
    EXPECT_DOUBLE_EQ(job.head.valves[3].cant, rad(-2));
    EXPECT_DOUBLE_EQ(job.head.valves[3].incline, rad(19.5));
    EXPECT_EQ(job.head.posts, (std::array<std::size_t, 2>{0, 2}));
    EXPECT_EQ(job.machine.y_sign, -1);
    EXPECT_DOUBLE_EQ(*job.machine.torque, 40'000);
    EXPECT_DOUBLE_EQ(*job.machine.rapid, 100);
    EXPECT_DOUBLE_EQ(*job.machine.accel, 500);
    EXPECT_DOUBLE_EQ(*job.machine.float_stiffness, 2000);
    EXPECT_DOUBLE_EQ(*job.machine.axial_stiffness, 20'000);
    EXPECT_DOUBLE_EQ(job.pilots[0].taper, 0.0005);
    EXPECT_DOUBLE_EQ(*job.materials[0].modulus, 110'000);
    EXPECT_NEAR(*job.materials[0].expansion, 11.4e-6, 1e-18);
    EXPECT_DOUBLE_EQ(job.materials[0].speed->high, 100);
    EXPECT_DOUBLE_EQ(*job.depth.swept, 580'000);
    EXPECT_EQ(job.readings.touches[1].head, "2");
    EXPECT_EQ(job.readings.touches[1].valve, "?");
    EXPECT_DOUBLE_EQ(*job.readings.seats[0].chamber, 64'100);
    EXPECT_DOUBLE_EQ(*job.readings.proofs[0].vacuum, 25 * kpa_per_inhg);
    EXPECT_DOUBLE_EQ(job.readings.proofs[0].angles[2], rad(90));
    EXPECT_GT(job.readings.proofs[0].line, 100);
    EXPECT_TRUE(job.assumptions.empty());
}

}  // namespace
}  // namespace seatwright::job
