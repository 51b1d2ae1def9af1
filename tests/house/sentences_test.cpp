// The house rule: no stage makes words. What it says is a sentence of the catalogue (by type: Warning,
// HeldBack), said at the rim; a program's own comments and what its read-back finds are the papers' own
// words.
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

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

// Texts in quotes of a source, those that follow each other put together; without what comments hold.
std::vector<std::string> texts_of(const std::string& source) {
    std::vector<std::string> out;
    bool goes_on = false;  // nothing but blanks since the last text
    for (std::size_t at = 0; at < source.size(); ++at) {
        if (source.compare(at, 2, "//") == 0) {
            at = std::min(source.find('\n', at), source.size());
        } else if (source[at] == '\'') {
            at += source[at + 1] == '\\' ? 3 : 2;
            goes_on = false;
        } else if (source[at] == '"') {
            std::string text;
            for (++at; at < source.size() && source[at] != '"'; ++at) {
                if (source[at] == '\\') text += source[at++];
                text += source[at];
            }
            if (goes_on)
                out.back() += text;
            else
                out.push_back(text);
            goes_on = true;
        } else if (std::isspace(static_cast<unsigned char>(source[at])) == 0) {
            goes_on = false;
        }
    }
    return out;
}

// "Posts {} apart; clamps tight.": four words or more from a capital letter to a stop.
bool is_a_sentence(const std::string& text) {
    constexpr long least_blanks = 3;
    return !text.empty() && std::isupper(static_cast<unsigned char>(text.front())) != 0 &&
           (text.back() == '.' || text.back() == '?') &&
           std::count(text.begin(), text.end(), ' ') >= least_blanks;
}

// What is no warning, cause or instruction (docs/words.md): the key table of readings, comments of a job file
// that is made, what is written beside a picture.
bool has_other_words(const std::string& file) {
    return file.ends_with("survey/keys.cpp") || file.ends_with("job_text.cpp") ||
           file.find("papers/drawings/") != std::string::npos || file.ends_with("papers/bundle.cpp");
}

TEST(House, WholeSentencesStandInTheCatalogue) {
    const auto texts =
        texts_of("f(\"Nobody stands \"\n  \"under it.\", '\"', \"so\"); // \"Not this one either.\"\n");
    ASSERT_EQ(texts, (std::vector<std::string>{"Nobody stands under it.", "so"}));
    EXPECT_TRUE(is_a_sentence(texts[0]));
    EXPECT_FALSE(is_a_sentence("stands {} in a heading"));
    int seen = 0, left = 0;
    for (const std::string room :
         {"drawing", "scan", "survey", "forecast", "casting", "plan", "report", "papers"})
        for (const auto& entry :
             fs::recursive_directory_iterator(fs::path(places::root) / "src" / "seatwright" / room)) {
            if (entry.path().extension() != ".cpp") continue;
            const std::string name = entry.path().generic_string();
            std::ifstream file(entry.path());
            const std::string source{std::istreambuf_iterator<char>(file), {}};
            ++seen;
            for (const std::string& text : texts_of(source))
                if (is_a_sentence(text)) {
                    if (has_other_words(name))
                        ++left;
                    else
                        ADD_FAILURE() << name << ": \"" << text << "\" stands outside the catalogue";
                }
        }
    EXPECT_GT(seen, 150);
    EXPECT_GT(left, 10) << "files that have other words have some";
}

}  // namespace
}  // namespace seatwright
