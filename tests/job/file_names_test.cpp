// Names of program files in eight letters and three: readable where they fit, made from the long name where
// they do not, and two that come out alike are a fault of the job. Invented data.
#include "seatwright/job/file_names.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <map>
#include <set>

#include "job/full_job.hpp"
#include "seatwright/job/reader.hpp"

namespace seatwright::job {
namespace {

FileOf of(std::string head, int number = 1) {
    FileOf file;
    file.head = std::move(head);
    file.setup = "A";
    file.number = number;
    return file;
}

TEST(FileNames, LongOnesAsTheContractHasThem) {
    FileOf file = of("6/1", 2);
    EXPECT_EQ(long_name(file), "program-6-1-A-2");
    file.only = {"3I", "4I"};
    file.first = true;
    EXPECT_EQ(long_name(file), "program-6-1-A-2-only3I-4I-first");
    file.only.clear();
    file.from = "3I";
    EXPECT_EQ(long_name(file), "program-6-1-A-2-from3I-first");
    file.first = false;
    file.draft = true;
    EXPECT_EQ(long_name(file), "program-6-1-A-2-from3I-draft");
}

TEST(FileNames, ShortOnesSayWhatTheyCanAndAreNeverAlike) {
    FileOf file = of("6");
    EXPECT_EQ(short_name(file), "p6A1");
    file.first = true;
    EXPECT_EQ(short_name(file), "p6A1f");
    file.only = {"3I"};
    EXPECT_EQ(short_name(file), "o6A13If");
    std::set<std::string> names;
    std::size_t count = 0;
    const auto add = [&](const FileOf& one) {
        const std::string name = short_name(one);
        EXPECT_LE(name.size(), 8u) << name;
        EXPECT_EQ(name, short_name(one));
        for (const char c : name) EXPECT_TRUE(std::isalnum(static_cast<unsigned char>(c))) << name;
        names.insert(without_case(name));
        ++count;
    };
    for (const char* head : {"1", "12", "batch 7, head 12", "batch 7, head 13"})
        for (const char* setup : {"A", "B"})
            for (const int number : {0, 1, 2, 12})
                for (const int turn : {0, 1, 5})
                    for (const bool first : {false, true}) {
                        FileOf one = of(head, number);
                        one.setup = setup;
                        one.turn = turn;
                        one.first = first;
                        add(one);
                        for (const char* id : {"3I", "4I", "3Ia"}) {
                            one.only = {id};
                            one.from.reset();
                            add(one);
                            one.only = {id, "1E"};
                            add(one);
                            one.only.clear();
                            one.from = id;
                            add(one);
                        }
                        one.from.reset();
                        one.first = false;
                        one.draft = true;
                        if (first) add(one);
                    }
    EXPECT_EQ(names.size(), count);
}

// Of some ten thousand names made so two are alike; two heads of such names are a fault before anything is
// planned.
TEST(FileNames, TwoHeadsThatComeOutAlikeAreAFault) {
    std::map<std::string, std::string> seen;
    std::string one, other;
    for (int i = 0; other.empty() && i < 100'000; ++i) {
        const std::string head = fmt::format("head {}", i);
        const auto [at, fresh] = seen.try_emplace(short_name(of(head)), head);
        if (!fresh) one = at->second, other = head;
    }
    ASSERT_FALSE(other.empty());
    const auto read = [&](const std::string& second, const std::string& names) {
        std::string text = test::full_job;
        const auto at = text.find("[[material]]");
        text.insert(at, "[dialect]\nname = \"d\"\nnames = \"" + names + "\"\n");
        for (const std::string& head : {one, second})
            text += fmt::format(
                "[[reading.guide]]\nhead = \"{}\"\nvalve = \"1I\"\ntop = 8.75\nmiddle = 8.74\n"
                "bottom = 8.75\n",
                head);
        return read_job(text, "j.toml", [](const std::string&) { return std::string(); });
    };
    const auto alike = read(other, "8.3");
    ASSERT_FALSE(alike);
    ASSERT_EQ(alike.error().size(), 1u);
    EXPECT_EQ(alike.error()[0].key, "dialect.names");
    for (const std::string& word : {one, other})
        EXPECT_NE(alike.error()[0].text.find('"' + word + '"'), std::string::npos) << alike.error()[0].text;
    EXPECT_TRUE(read(other, "long"));
    EXPECT_TRUE(read("head x", "8.3"));
}

}  // namespace
}  // namespace seatwright::job
