// A job file parted into document and readings, and put together again, loses nothing.
#include "seatwright/store/split.hpp"

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <sstream>

#include "places.hpp"
#include "seatwright/job/reader.hpp"
#include "seatwright/store/live.hpp"
#include "seatwright/store/merge.hpp"
#include "seatwright/store/toml_json.hpp"

namespace seatwright::store {
namespace {

std::string text_of_file(const std::filesystem::path& path) {
    std::ifstream in(path, std::ios::binary);
    std::ostringstream text;
    text << in.rdbuf();
    return text.str();
}

std::vector<Entry> stored(const std::vector<NewEntry>& readings) {
    std::vector<Entry> entries;
    for (const auto& reading : readings) {
        Entry e;
        static_cast<NewEntry&>(e) = reading;
        e.id = e.sequence = static_cast<long long>(entries.size() + 1);
        entries.push_back(e);
    }
    return entries;
}

std::string together(const Split& split, LengthUnit units) {
    const auto entries = stored(split.readings);
    return merged(split.document, readings_toml(entries, resolve(entries), units));
}

// Every reading as the reader understands it, written out to the last bit.
std::string readings_of(const job::Readings& r) {
    std::ostringstream out;
    out.precision(17);
    const auto maybe = [&](const std::optional<double>& v) { out << (v ? *v : -1e300) << ' '; };
    for (const auto& t : r.touches)
        out << t.head << t.valve << t.at.x() << ' ' << t.at.y() << ' ', maybe(t.sd);
    for (const auto& l : r.levels)
        out << l.head << l.valve << static_cast<int>(l.across) << l.first << ' ', maybe(l.second);
    for (const auto& g : r.guides)
        out << g.head << g.valve << g.top << ' ' << g.middle << ' ' << g.bottom << ' ';
    for (const auto& s : r.seats) {
        out << s.head << s.valve;
        maybe(s.stem_height), maybe(s.recession), maybe(s.cleanup), maybe(s.chamber);
        for (const auto& p : s.section) out << p.x() << ' ' << p.y() << ' ';
    }
    for (const auto& p : r.proofs) {
        out << p.head << p.valve << p.by;
        for (const double v : p.trace) out << v << ' ';
        for (const double v : p.angles) out << v << ' ';
        for (const double v : p.width) out << v << ' ';
        maybe(p.runout), maybe(p.stem_height), maybe(p.vacuum), maybe(p.gauge_u);
    }
    return out.str();
}

TEST(Split, EveryDemonstrationJobComesBackWithTheSameReadings) {
    const std::filesystem::path root = places::root;
    const std::string shop = text_of_file(root / "shop" / "shop.toml");
    int jobs = 0;
    std::size_t readings = 0;
    for (const auto& folder : std::filesystem::directory_iterator(root / "examples")) {
        const auto file = folder.path() / "job.toml";
        if (!std::filesystem::exists(file)) continue;
        const std::string text = text_of_file(file);
        const auto read = [&](const std::string& t) {
            return job::read_job(t, "job", [&](const std::string&) { return shop; });
        };
        const auto original = read(text);
        ASSERT_TRUE(original) << file << ": " << to_line(original.error().front());
        const auto split = split_readings(text, original->units);
        ASSERT_TRUE(split) << split.error().text;
        EXPECT_FALSE(has_readings(split->document));
        const std::string back = together(*split, original->units);
        const auto again = read(back);
        ASSERT_TRUE(again) << file << ": " << to_line(again.error().front());
        EXPECT_EQ(readings_of(again->readings), readings_of(original->readings)) << file;
        // What is left of the file is what was there, byte for byte, in its order.
        std::size_t at = 0;
        std::istringstream lines(split->document);
        for (std::string line; std::getline(lines, line);) {
            at = text.find(line + '\n', at);
            ASSERT_NE(at, std::string::npos) << line;
            at += line.size() + 1;
        }
        const auto twice = split_readings(back, original->units);
        ASSERT_TRUE(twice);
        EXPECT_EQ(together(*twice, original->units), back)
            << "an export imported and exported is the same text";
        ++jobs;
        readings += split->readings.size();
    }
    EXPECT_GE(jobs, 3);
    EXPECT_GE(readings, 20u);
}

TEST(Split, TakesReadingsInEveryFormTomlHasForThem) {
    const std::string head = "title = 't'\nunits = 'mm'\n";
    for (const std::string readings : {
             "[[reading.touch]]\nvalve = '1I'\nx = 1\ny = 2\n",
             "reading.touch = [ { valve = '1I', x = 1, y = 2 },\n ]\n",
             "[reading]\ntouch = [\n  { valve = '1I', x = 1, y = 2 }, # first\n]\n",
             "[reading.touch]\nvalve = '1I'\nx = 1\ny = 2\n",
             "reading.touch.valve = '1I'\nreading . touch.x = 1 # one\n'reading'.touch.y = 2\n",
             "[[ reading . \"touch\" ]] # a # [comment]\nvalve = '''\n1I'''\nx = 1\n'y' = 2",
         }) {
        const auto split = split_readings(head + readings, LengthUnit::mm);
        ASSERT_TRUE(split) << readings << split.error().text;
        ASSERT_EQ(split->readings.size(), 1u) << readings;
        EXPECT_EQ(split->readings[0].valve, "1I");
        EXPECT_EQ(split->readings[0].values["x"], 1);
        EXPECT_TRUE(split->document.starts_with(head)) << split->document;
        EXPECT_FALSE(has_readings(split->document)) << split->document;
    }
}

TEST(Split, KeepsCommentsAndEverythingAroundTheReadings) {
    const std::string text =
        "title = \"\"\"\n[[reading.touch]] is only a text here\n\"\"\"\n# touches of "
        "Monday\n[[reading.touch]]\nhead = 2\n"
        "valve = \"1I\"\nx = 0.1\ny = -3e-2\n# kept\n\n[depth] # after\nstep = 0.01\n[[reading.touch]]\nhead "
        "= 2\nvalve = \"1I\"\nx = 1\ny = 1\n";
    const auto split = split_readings(text, LengthUnit::inch);
    ASSERT_TRUE(split) << split.error().text;
    EXPECT_EQ(split->document,
              "title = \"\"\"\n[[reading.touch]] is only a text here\n\"\"\"\n# touches of Monday\n# kept\n"
              "[depth] # after\nstep = 0.01\n");
    ASSERT_EQ(split->readings.size(), 2u);
    EXPECT_EQ(split->readings[0].head, "2");
    EXPECT_FALSE(split->readings[0].repeat);
    EXPECT_TRUE(split->readings[1].repeat)
        << "a second one of the same place in a file was meant as a second one";
    EXPECT_EQ(split->readings[1].units, LengthUnit::inch);
}

TEST(Split, ATextWithoutReadingsIsLeftAlone) {
    const std::string text = "a = 1\r\nb = [1,\r\n2]\r\n";
    const auto split = split_readings(text, LengthUnit::mm);
    ASSERT_TRUE(split);
    EXPECT_EQ(split->document, text);
    EXPECT_TRUE(split->readings.empty());
}

TEST(TomlLiteral, ReadsBackToTheSameValue) {
    const Json value = {{"a", 0.1 + 0.2},
                        {"b c", {1, -2, 3.5}},
                        {"t", "q\"\\\n\x01ü"},
                        {"f", true},
                        {"n", {{"x", {{"y", 1}}}}}};
    // TOML tables have no order of keys: compared without it.
    EXPECT_EQ(nlohmann::json(tables_of("v = " + toml_literal(value))["v"]), nlohmann::json(value));
}

}  // namespace
}  // namespace seatwright::store
