// Names that the shelf does not have, and faults told in the job's own unit.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include "seatwright/job/needs.hpp"
#include "seatwright/job/reader.hpp"

namespace seatwright::job {
namespace {

std::string text(const std::string& head_material, const std::string& seat_material,
                 const std::string& ring_material) {
    return fmt::format(R"(units = "in"
[head]
material = "{}"
[[head.valve]]
id = "1I"
kind = "intake"
x = 0
z = -0.3
[seat.intake]
angle = 45
width = 0.06
material = "{}"
insert = {{ outside = 2, inside = 1.4, depth = 0.3, material = "{}" }}
[[material]]
name = "grey iron"
[[material]]
name = "sintered iron"
)",
                       head_material, seat_material, ring_material);
}

Faults unknown(const std::string& head, const std::string& seat, const std::string& ring) {
    const auto job = read_job(text(head, seat, ring), "j.toml", {});
    EXPECT_TRUE(job) << (job ? "" : to_line(job.error().front()));
    return job ? not_on_shelf(*job) : Faults{};
}

TEST(Names, MaterialsOnTheShelfAreNoFault) {
    EXPECT_TRUE(unknown("grey iron", "sintered iron", "grey iron").empty());
    EXPECT_TRUE(unknown("grey iron", "", "").empty());
}

TEST(Names, EachMaterialTheShelfDoesNotHaveIsAFaultAtItsKey) {
    const Faults faults = unknown("gray iron", "sintred iron", "unobtainium");
    ASSERT_EQ(faults.size(), 3u);
    EXPECT_EQ(
        to_line(faults[0]),
        "j.toml:3: head.material: \"gray iron\" is not on the shelf, did you mean \"grey iron\"?; there: "
        "\"grey iron\", \"sintered iron\"");
    EXPECT_EQ(faults[1].key, "seat.intake.material");
    EXPECT_EQ(faults[2].key, "seat.intake.insert.material");
    EXPECT_EQ(faults[2].line, 13);
    EXPECT_EQ(faults[2].text.find("did you mean"), std::string::npos);
    // The stage that cuts says the same.
    const auto job = read_job(text("grey iron", "sintred iron", "unobtainium"), "j.toml", {});
    std::string said;
    for (const auto& fault : needs(*job, Stage::cut)) said += to_line(fault) + "\n";
    EXPECT_NE(said.find("seat.intake.insert.material: \"unobtainium\""), std::string::npos) << said;
    EXPECT_EQ(said.find("sintred"), said.rfind("sintred")) << said;
}

TEST(Names, AnInchJobsFaultsNameNoMillimetres) {
    const auto job = read_job(
        "units = \"in\"\n[head]\n[[head.valve]]\nid = \"1I\"\nkind = \"intake\"\nx = 0\n"
        "[valve.intake]\nhead_diameter = 1.5\nstem_diameter = 1.6\n"
        "[seat.intake]\nangle = 45\nwidth = 0.06\ncontact_diameter = 1.7\nstem_height_min = "
        "2\nstem_height_max = "
        "1.9\n"
        "[guide.intake]\nbore = 0.35\nbore_max = 0.34\nmouth = 0.3\nlength = 5000\n",
        "j.toml", {});
    ASSERT_FALSE(job);
    EXPECT_GE(job.error().size(), 6u);
    std::string all;
    for (const auto& fault : job.error()) all += to_line(fault) + "\n";
    EXPECT_EQ(all.find(" mm"), std::string::npos) << all;
    EXPECT_NE(all.find("is 0.34 in, below the bore of 0.35 in"), std::string::npos) << all;
}

}  // namespace
}  // namespace seatwright::job
