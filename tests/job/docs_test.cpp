// The examples of docs/job-file.md are jobs.
#include <gtest/gtest.h>

#include <fstream>
#include <sstream>

#include "places.hpp"
#include "seatwright/job/needs.hpp"
#include "seatwright/job/reader.hpp"

namespace seatwright::job {
namespace {

std::vector<std::string> blocks(const std::string& kind) {
    std::ifstream file(std::string(places::root) + "/docs/job-file.md");
    std::vector<std::string> out;
    std::string line;
    bool inside = false;
    while (std::getline(file, line)) {
        if (!inside && line == "```" + kind) {
            inside = true;
            out.emplace_back();
        } else if (inside && line == "```") {
            inside = false;
        } else if (inside) {
            out.back() += line + "\n";
        }
    }
    return out;
}

Checked<Job> read(const std::string& text) {
    return read_job(text, "job.toml", [](const std::string&) -> tl::expected<std::string, std::string> {
        return std::string(
            "units = \"mm\"\n[[machine]]\nname = \"long table\"\n[[machine]]\nname = "
            "\"b\"\n[[fixture]]\nname = "
            "\"roll cradle\"\n");
    });
}

TEST(Docs, EveryExampleReads) {
    const auto examples = blocks("toml");
    ASSERT_EQ(examples.size(), 5u);
    for (const auto& text : examples) {
        const auto job = read(text);
        EXPECT_TRUE(job) << text << (job ? "" : to_line(job.error().front()));
    }
}

TEST(Docs, TheCompleteJobNeedsNothing) {
    const auto job = read(blocks("toml").at(0));
    ASSERT_TRUE(job);
    for (const auto stage : {Stage::hold, Stage::find, Stage::shape, Stage::cut, Stage::prove})
        EXPECT_TRUE(needs(*job, stage).empty()) << name_of(stage);
    EXPECT_EQ(job->head.valves.size(), 4u);
}

// The faults the page shows are the faults one gets.
TEST(Docs, FaultsShownAreTheFaultsTold) {
    std::string text = blocks("toml").at(0);
    text.replace(text.find("\"9 kg\""), 6, "\"9 mm\"");
    text.replace(text.find("width = 1.4"), 5, "witdh");
    const auto job = read(text);
    ASSERT_FALSE(job);
    ASSERT_EQ(job.error().size(), 2u);
    const std::string shown = blocks("text").at(0);
    for (const auto& fault : job.error())
        EXPECT_NE(shown.find(fault.key + ": " + fault.text), std::string::npos)
            << fault.key << ": " << fault.text;
}

}  // namespace
}  // namespace seatwright::job
