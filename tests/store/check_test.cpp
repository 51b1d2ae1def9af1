// An entry of the workbench obeys the job file's rules: every key of a reading after cutting is taken.
#include "seatwright/store/check.hpp"

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <optional>
#include <sstream>
#include <stdexcept>

#include "places.hpp"
#include "seatwright/job/reader.hpp"
#include "seatwright/store/live.hpp"
#include "seatwright/store/merge.hpp"
#include "seatwright/store/split.hpp"

namespace seatwright::store {
namespace {

std::string file_text(const std::filesystem::path& path) {
    std::ifstream in(path, std::ios::binary);
    std::ostringstream text;
    text << in.rdbuf();
    return text.str();
}

class Check : public testing::Test {
  protected:
    Check() {
        const std::filesystem::path root = places::root;
        shop = file_text(root / "shop" / "shop.toml");
        const std::string text = file_text(root / "examples" / "wedge" / "job.toml");
        const auto read = read_of(text);
        document = split_readings(text, read->units)->document;
        job = *read_of(document);
    }
    std::optional<job::Job> read_of(const std::string& text) const {
        auto read = job::read_job(text, "job", [&](const std::string&) { return shop; });
        if (!read) throw std::runtime_error(to_line(read.error().front()));
        return std::move(*read);
    }
    NewEntry proof() const {
        NewEntry e;
        e.client_key = "proof-0001";
        e.kind = EntryKind::proof;
        e.valve = job.head.valves.front().id;
        e.units = LengthUnit::inch;
        e.values = {{"runout", "0.0008"},   {"vacuum", "25 inHg"},        {"vacuum_after", "22 inHg"},
                    {"vacuum_seconds", 10}, {"gauge_u", "0.0001"},        {"date", "2026-01-31"},
                    {"gauge", "dial 7"},    {"calibrated", "2025-12-01"}, {"cutter", "A2"},
                    {"accepted_by", "Pat"}};
        return e;
    }
    std::string shop, document;
    job::Job job;
};

TEST_F(Check, TakesEveryKeyOfAReadingAfterCutting) {
    const auto fault = fault_of_entry(job, proof());
    EXPECT_FALSE(fault) << fault->text;
    NewEntry wrong = proof();
    wrong.values["vacuum_seconds"] = -1;
    EXPECT_TRUE(fault_of_entry(job, wrong));
    wrong = proof();
    wrong.values["vacum_after"] = "22 inHg";
    EXPECT_TRUE(fault_of_entry(job, wrong)) << "a key the job file does not have";
}

TEST_F(Check, WhatDescribesTheMeasuringIsNoQuantityToDisagreeOver) {
    std::vector<Entry> entries(2);
    static_cast<NewEntry&>(entries[0]) = proof();
    static_cast<NewEntry&>(entries[1]) = proof();
    entries[1].values = {{"stem_height", 1.9}, {"date", "2026-02-01"}, {"gauge", "depth gauge 3"}};
    entries[0].id = entries[0].sequence = 1;
    entries[1].id = entries[1].sequence = 2;
    entries[0].by = entries[1].by = "Pat";
    entries[0].at_ms = entries[1].at_ms = 1769817600000;  // 2026-01-31
    const Resolution resolution = resolve(entries);
    EXPECT_TRUE(resolution.conflicts.empty());
    const auto read = read_of(merged(document, readings_toml(entries, resolution, job.units)));
    ASSERT_EQ(read->readings.proofs.size(), 1u);
    const auto& seat = read->readings.proofs.front();
    EXPECT_EQ(seat.date, "2026-01-31");
    EXPECT_EQ(seat.gauge, "dial 7");
    EXPECT_EQ(seat.calibrated, "2025-12-01");
    EXPECT_EQ(seat.cutter, "A2");
    EXPECT_EQ(seat.accepted_by, "Pat");
    EXPECT_NEAR(*seat.vacuum_after, 22 * kpa_per_inhg, 1e-9);
    EXPECT_EQ(*seat.vacuum_seconds, 10);
    EXPECT_NEAR(*seat.stem_height, 1.9 * mm_per_inch, 1e-9);
}

// A job kept as a template: the name, and which version of it is meant; an empty name takes it back.
TEST_F(Check, ATemplateSaysWhichVersionIsMeant) {
    NewEntry e;
    e.client_key = "template-1";
    e.kind = EntryKind::note;
    const auto refused = [&](Json values) {
        e.values = std::move(values);
        return fault_of_entry(job, e).has_value();
    };
    EXPECT_FALSE(refused({{"template", "row heads"}, {"version", 3}}));
    EXPECT_FALSE(refused({{"template", ""}}));
    EXPECT_TRUE(refused({{"template", "row heads"}}));
    EXPECT_TRUE(refused({{"template", ""}, {"version", 3}}));
    EXPECT_TRUE(refused({{"words", "bent"}, {"version", 3}}));
    EXPECT_TRUE(refused({{"template", "row heads"}, {"version", 0}}));
    EXPECT_TRUE(refused({{"template", std::string(41, 'x')}, {"version", 3}}));
}

}  // namespace
}  // namespace seatwright::store
