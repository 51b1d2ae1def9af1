// Readings given without text are those of the exported file, to the last bit, and so is every fault.
#include "seatwright/store/given_readings.hpp"

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <random>
#include <set>
#include <sstream>

#include "job/same_job.hpp"
#include "places.hpp"
#include "seatwright/job/text.hpp"
#include "seatwright/store/merge.hpp"
#include "seatwright/store/split.hpp"

namespace seatwright::store {
namespace {

std::string text_in(const std::filesystem::path& path) {
    std::ifstream in(path, std::ios::binary);
    std::ostringstream text;
    text << in.rdbuf();
    return text.str();
}

struct Both {
    Checked<job::Job> text, given;
};

// The job with these entries, read from its exported text and without it.
Both both_of(const std::string& document, const std::vector<Entry>& entries, LengthUnit units) {
    static const std::string shop = text_in(std::filesystem::path(places::root) / "shop" / "shop.toml");
    const auto fetch = [](const std::string&) { return shop; };
    const auto resolution = resolve(entries);
    return {job::read_job(merged(document, readings_toml(entries, resolution, units)), "job", fetch),
            job::read_job(job::read_text(document), "job", fetch,
                          given_readings(reading_tables(entries, resolution, units), units, "job"))};
}

void expect_same(const Both& both) {
    ASSERT_TRUE(both.text) << to_line(both.text.error().front());
    ASSERT_TRUE(both.given) << to_line(both.given.error().front());
    const job::Job &a = *both.text, &b = *both.given;
    job::test::SameJob(0).heads(a.head, b.head);
    job::test::SameJob(0).readings(a.readings, b.readings);
    EXPECT_EQ(a.given, b.given);
    EXPECT_EQ(a.heads(), b.heads());
    EXPECT_EQ(a.assumptions, b.assumptions);
    EXPECT_EQ(a.figures.units.as_written, b.figures.units.as_written);
    EXPECT_EQ(a.figures.units.in_other_unit, b.figures.units.in_other_unit);
    ASSERT_EQ(a.figures.odd.size(), b.figures.odd.size());
    for (std::size_t i = 0; i < a.figures.odd.size(); ++i) {
        EXPECT_EQ(a.figures.odd[i].key, b.figures.odd[i].key);
        EXPECT_EQ(a.figures.odd[i].typed, b.figures.odd[i].typed);
        EXPECT_EQ(a.figures.odd[i].value, b.figures.odd[i].value);
    }
}

std::vector<Entry> stored(const std::vector<NewEntry>& readings) {
    std::vector<Entry> out;
    for (const auto& reading : readings) {
        Entry entry;
        static_cast<NewEntry&>(entry) = reading;
        entry.id = entry.sequence = static_cast<long long>(out.size() + 1);
        entry.at_ms = 1769817600000;  // 2026-01-31
        entry.by = "Pat";
        out.push_back(std::move(entry));
    }
    return out;
}

struct Parted {
    Split split;
    LengthUnit units;
};

std::vector<Parted> examples() {
    std::vector<Parted> out;
    const std::filesystem::path root = places::root;
    std::vector<std::filesystem::path> files{root / "bench" / "thirty_two_valves.toml"};
    for (const auto& folder : std::filesystem::directory_iterator(root / "examples"))
        if (std::filesystem::exists(folder.path() / "job.toml")) files.push_back(folder.path() / "job.toml");
    for (const auto& file : files) {
        const std::string text = text_in(file);
        const auto units =
            job::read_text(text).root().find("units").text() == "in" ? LengthUnit::inch : LengthUnit::mm;
        auto split = split_readings(text, units);
        EXPECT_TRUE(split) << file;
        if (split) out.push_back({std::move(*split), units});
    }
    return out;
}

TEST(Given, ReadingsOfTheExamplesAreThoseOfTheirText) {
    std::size_t readings = 0;
    for (const auto& [split, units] : examples()) {
        expect_same(both_of(split.document, stored(split.readings), units));
        expect_same(both_of(split.document, {}, units));
        readings += split.readings.size();
    }
    EXPECT_GE(readings, 100u);
}

// The same places read again by others, in either unit, with units named or not, corrected and chosen.
TEST(Given, EntriesOfManyHandsAreThoseOfTheirText) {
    std::mt19937_64 random(4);
    const auto below = [&](std::size_t n) {
        return std::uniform_int_distribution<std::size_t>(0, n - 1)(random);
    };
    for (const auto& [split, units] : examples()) {
        std::vector<NewEntry> entries = split.readings;
        const std::size_t first = entries.size();
        for (int i = 0; i < 60 && first > 0; ++i) {
            NewEntry entry = entries[below(first)];
            entry.client_key = "entry-" + std::to_string(i);
            entry.head = std::to_string(1 + below(3));
            const bool other = below(2) == 0;
            entry.units = other == (units == LengthUnit::mm) ? LengthUnit::inch : LengthUnit::mm;
            const double factor = entry.units == units      ? 1
                                  : units == LengthUnit::mm ? 1 / mm_per_inch
                                                            : mm_per_inch;
            for (auto& [key, value] : entry.values.items()) {
                const job::Key* row = row_of(entry.kind, key);
                const bool is_length =
                    row != nullptr && is_measured(*row) && row->dimension == job::Dimension::length;
                if (value.is_number() && is_length) value = value.get<double>() * factor;
                if (value.is_number() && is_length && below(4) == 0)
                    value = std::to_string(value.get<double>());
                if (value.is_array() && is_length && value.size() > 0 && value[0].is_number())
                    for (auto& one : value) one = one.get<double>() * factor;
                if (key == "trace" || key == "section") continue;
                if (value.is_number() && is_length && below(8) == 0)
                    value =
                        std::to_string(value.get<double>()) + (entry.units == LengthUnit::mm ? " mm" : " in");
            }
            entry.repeat = below(5) == 0;
            entries.push_back(std::move(entry));
        }
        auto all = stored(entries);
        for (std::size_t i = first; i < all.size(); ++i)
            if (below(6) == 0) {
                all[i].corrects = all[i - 1].id;
                all[i].kind = all[i - 1].kind;
                all[i].values = all[i - 1].values;
            }
        const auto both = both_of(split.document, all, units);
        ASSERT_EQ(both.text.has_value(), both.given.has_value());
        if (both.text) expect_same(both);
    }
}

TEST(Given, FaultsAreThoseOfTheText) {
    const auto parted = examples().front();
    const Json values[] = {{{"x", "1 kg"}, {"y", 0}},
                           {{"x", true}, {"y", nullptr}},
                           {{"x", {1, 2}}, {"y", 1e300}},
                           {{"x", 1}},
                           {{"x", 1}, {"y", 2}, {"z", 3}},
                           {{"x", "0.5"}, {"y", "a\nb \"c\""}},
                           {{"x", {{"deep", 1}}}, {"y", 18446744073709551615u}}};
    for (const auto& value : values)
        for (const LengthUnit units : {LengthUnit::mm, LengthUnit::inch}) {
            NewEntry entry;
            entry.valve = "no such";
            entry.units = units;
            entry.values = value;
            const auto both = both_of(parted.split.document, stored({entry}), parted.units);
            ASSERT_FALSE(both.text);
            ASSERT_FALSE(both.given) << value.dump();
            const auto said = [](const Faults& faults) {
                std::set<std::string> out;
                for (const auto& fault : faults) out.insert(fault.key + ": " + fault.text);
                return out;
            };
            EXPECT_EQ(said(both.text.error()), said(both.given.error())) << value.dump();
        }
}

}  // namespace
}  // namespace seatwright::store
