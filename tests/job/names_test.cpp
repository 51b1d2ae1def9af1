// Names that the shelf does not have, and faults told in the job's own unit.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include "job/full_job.hpp"
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

// A way of the pilot that none of the pilots for these guides can go: named with both values, before anything
// is planned.
TEST(Names, APilotThatCannotBeUsedAsCutAsks) {
    const auto with = [](const std::string& use, const std::string& style) {
        std::string text = test::full_job;
        const auto at = text.find("[cut]\n");
        if (at == std::string::npos)
            text += "\n[cut]\npilot = \"" + use + "\"\n";
        else
            text.insert(at + 6, "pilot = \"" + use + "\"\n");
        const auto pilot = text.find("style = \"fixed\"");
        EXPECT_NE(pilot, std::string::npos);
        text.replace(pilot, 15, "style = \"" + style + "\"");
        if (style != "fixed" && style != "tapered") {
            const auto taper = text.find("taper = \"0.0005 in/in\"\n");
            text.erase(taper, 23);
        }
        return read_job(text, "j.toml", [](const std::string&) { return std::string(); });
    };
    for (const auto& [use, style] :
         {std::pair{"live", "tapered"}, {"planted", "parallel"}, {"planted", "live"}}) {
        const auto job = with(use, style);
        ASSERT_FALSE(job) << use << " " << style;
        ASSERT_EQ(job.error().size(), 1u) << to_line(job.error().back());
        const Fault& fault = job.error().front();
        EXPECT_EQ(fault.key, "cut.pilot");
        EXPECT_GT(fault.line, 1);
        EXPECT_NE(fault.text.find(use), std::string::npos) << fault.text;
        EXPECT_NE(fault.text.find(style), std::string::npos) << fault.text;
    }
    for (const auto& [use, style] : {std::pair{"carried", "tapered"},
                                     {"carried", "parallel"},
                                     {"live", "live"},
                                     {"live", "parallel"},
                                     {"planted", "tapered"},
                                     {"none", "tapered"}})
        EXPECT_TRUE(with(use, style)) << use << " " << style;
}

}  // namespace
}  // namespace seatwright::job
