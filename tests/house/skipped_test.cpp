// The house rule: a test that lacks something from outside is skipped (missing.hpp); it does not return as if
// it had passed.
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <regex>
#include <string>

#include "places.hpp"

namespace seatwright {
namespace {

namespace fs = std::filesystem;

// In the body of a test, up to the end of it: what looks for a thing from outside, and the word with which
// one leaves.
TEST(House, ATestThatLacksSomethingIsSkippedNotPassed) {
    static const std::regex looks(R"(\b(data_file|interpreter|interpreter_folder)\(|places::shared)");
    static const std::regex leaves(R"(^\s*(if \(.*\) )?return( [\w:]+\(\))?;)");
    int seen = 0;
    for (const auto& entry : fs::recursive_directory_iterator(fs::path(places::root) / "tests")) {
        if (!entry.path().filename().string().ends_with("_test.cpp")) continue;
        std::ifstream file(entry.path());
        std::string text;
        bool in_test = false, needs = false;
        for (int n = 1; std::getline(file, text); ++n) {
            if (text.starts_with("TEST")) {
                in_test = true;
                needs = false;
            } else if (text == "}") {
                in_test = false;
            }
            if (!in_test) continue;
            if (!needs && std::regex_search(text, looks)) {
                needs = true;
                ++seen;
            }
            EXPECT_FALSE(needs && std::regex_search(text, leaves))
                << entry.path().string() << ":" << n << ": GTEST_SKIP() << outside::missing(…)";
        }
    }
    EXPECT_GT(seen, 10);
}

}  // namespace
}  // namespace seatwright
