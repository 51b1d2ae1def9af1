// A generated corpus read by us and by another program, toml++: both take a text or both refuse it, and they
// read the same values. Left out is what the other leaves undefined (other_opinion.hpp) and what is beyond
// our limits (nesting, parts of a key, numbers of more than 64 letters), which we refuse.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "places.hpp"
#include "toml/generate.hpp"
#include "toml/other_opinion.hpp"

namespace seatwright::toml {
namespace {

struct Count {
    int good = 0, refused = 0, left_out = 0;
};

void compare(const std::string& text, Count& count) {
    const auto document = Document::parse(text);
    EXPECT_EQ(document.text(), text);
    const auto& faults = document.faults();
    const bool limit = std::any_of(faults.begin(), faults.end(),
                                   [](const Wrong& wrong) { return wrong.cause == Cause::limit; });
    const auto other = test::other_opinion(document);
    if (limit || other.undefined) {
        ++count.left_out;
        EXPECT_FALSE(limit && document.is_good()) << text;
        return;
    }
    ++(document.is_good() ? count.good : count.refused);
    ASSERT_EQ(document.is_good(), other.accepts)
        << text << "\nwe: " << (document.is_good() ? "good" : faults[0].text) << "\nthey: " << other.said;
    EXPECT_TRUE(!other.accepts || other.said.empty()) << text << "\n" << other.said;
}

TEST(Agree, OnWholeAndDamagedTexts) {
    test::Random random(20);
    Count count;
    for (int i = 0; i < 30000 && !testing::Test::HasFailure(); ++i) {
        std::string text = test::text_of_statements(random, 1 + i % 8);
        compare(i % 2 == 0 ? text : test::damaged(random, std::move(text)), count);
    }
    // Enough of each that a slip would show.
    EXPECT_GT(count.good, 5000);
    EXPECT_GT(count.refused, 5000);
    EXPECT_LT(count.left_out, 3000);
}

TEST(Agree, OnEveryFileOfTheHouse) {
    namespace fs = std::filesystem;
    Count count;
    for (const char* folder : {"examples", "shop", "bench", "fuzz/corpus/job", "fuzz/corpus/toml"})
        for (const auto& entry : fs::recursive_directory_iterator(fs::path(places::root) / folder)) {
            if (entry.path().extension() != ".toml") continue;
            std::ifstream file(entry.path(), std::ios::binary);
            std::stringstream text;
            text << file.rdbuf();
            compare(text.str(), count);
        }
    EXPECT_GE(count.good, 10);
    EXPECT_GE(count.refused, 10);
}

}  // namespace
}  // namespace seatwright::toml
