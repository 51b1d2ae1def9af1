// The house rule: no std::regex in the program. It follows a text letter by letter down the stack, so that a
// long one from outside ends the program; what is matched there is matched by loops.
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <string>

#include "places.hpp"

namespace seatwright {
namespace {

namespace fs = std::filesystem;

TEST(House, NothingIsMatchedByRegularExpressions) {
    int seen = 0;
    for (const std::string folder : {"src", "apps"})
        for (const auto& entry : fs::recursive_directory_iterator(fs::path(places::root) / folder)) {
            if (entry.path().extension() != ".cpp" && entry.path().extension() != ".hpp") continue;
            ++seen;
            std::ifstream file(entry.path());
            std::string text;
            for (int n = 1; std::getline(file, text); ++n)
                EXPECT_TRUE(text.find("<regex>") == std::string::npos &&
                            text.find("std::regex") == std::string::npos)
                    << entry.path() << ":" << n;
        }
    EXPECT_GT(seen, 200) << "the sources were not found";
}

}  // namespace
}  // namespace seatwright
