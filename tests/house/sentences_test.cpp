// The house rule: no stage makes words. What it says is a sentence of the catalogue (by type: Warning,
// HeldBack), said at the rim; a program's own comments and what its read-back finds are the papers' own
// words.
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <filesystem>
#include <fstream>
#include <string>

#include "places.hpp"

namespace seatwright {
namespace {

namespace fs = std::filesystem;

bool words_of_its_own(const std::string& file) {
    constexpr std::array own{"cut/program_words.cpp", "cut/readback_route.cpp", "cut/expect_places.cpp",
                             "cut/expect_pilots.cpp"};
    return std::any_of(own.begin(), own.end(), [&](const char* name) { return file.ends_with(name); });
}

// A call of that name, not of one that ends like it.
bool calls(const std::string& text, const std::string& name) {
    for (std::size_t at = text.find(name + "("); at != std::string::npos;
         at = text.find(name + "(", at + 1)) {
        const char before = at == 0 ? ' ' : text[at - 1];
        if (before != '_' && std::isalnum(static_cast<unsigned char>(before)) == 0) return true;
    }
    return false;
}

TEST(House, NoStageMakesWords) {
    int seen = 0;
    for (const std::string room : {"hold", "find", "shape", "cut", "prove"})
        for (const auto& entry :
             fs::recursive_directory_iterator(fs::path(places::root) / "src" / "seatwright" / room)) {
            const std::string name = entry.path().generic_string();
            if (entry.path().extension() != ".cpp" && entry.path().extension() != ".hpp") continue;
            ++seen;
            std::ifstream file(entry.path());
            std::string text;
            for (int n = 1; std::getline(file, text); ++n) {
                EXPECT_FALSE(calls(text, "the_key") && text.find("fmt::format") != std::string::npos)
                    << name << ":" << n << ": a key, not a sentence";
                if (words_of_its_own(name)) continue;
                EXPECT_FALSE(calls(text, "in_words") || calls(text, "written"))
                    << name << ":" << n << ": said at the rim";
            }
        }
    EXPECT_GT(seen, 150);
}

}  // namespace
}  // namespace seatwright
