// The house rule: the words of the two kinds of valves, and their places in a list, stand once each
// (job/kind_word.hpp, job/kind_index.hpp).
#include <gtest/gtest.h>

#include <algorithm>
#include <cctype>
#include <filesystem>
#include <fstream>
#include <map>
#include <regex>
#include <string>

#include "places.hpp"

namespace seatwright {
namespace {

namespace fs = std::filesystem;

// Which files may write a kind by itself, and why.
const std::map<std::string, std::string> allowed{
    {"src/seatwright/job/kind_word.hpp", "here they stand"},
    {"src/seatwright/words/english_job.hpp", "the catalogue of sentences"},
    {"src/seatwright/job/keys_casting.cpp", "choices of a key"},
    {"src/seatwright/job/keys_head.cpp", "choices of a key"},
    {"src/seatwright/drawing/kinds.cpp", "what layers of drawings are called"},
    {"src/seatwright/drawing/told.cpp", "what layers of drawings are to be called"},
    {"apps/server/jobs/survey_text.cpp", "fields of what a page sends"},
    {"apps/server/intake/six_answers.cpp", "a field of what a page sends"},
    {"apps/cli/main.cpp", "choices of an option"},
};

// Whether a text of at most two words says a kind; "say-intake", "intakes" and paths do not.
bool says_a_kind(std::string text) {
    std::transform(text.begin(), text.end(), text.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    static const std::regex kind(R"((^|[^a-z/-])(intake|exhaust)($|[^a-z/-]))");
    return std::count(text.begin(), text.end(), ' ') < 2 && std::regex_search(text, kind);
}

TEST(House, KindsAreNamedAndNumberedOnce) {
    ASSERT_TRUE(says_a_kind("Intake seats") && says_a_kind("seat.exhaust.") && !says_a_kind("say-intake"));
    static const std::regex quoted(R"rx("((?:[^"\\]|\\.)*)")rx");
    std::map<std::string, int> seen;
    int files = 0;
    for (const std::string folder : {"src", "apps"})
        for (const auto& entry : fs::recursive_directory_iterator(fs::path(places::root) / folder)) {
            if (entry.path().extension() != ".cpp" && entry.path().extension() != ".hpp") continue;
            ++files;
            const std::string file = fs::relative(entry.path(), places::root).generic_string();
            std::ifstream in(entry.path());
            std::string line;
            for (int n = 1; std::getline(in, line); ++n) {
                const auto comment = line.find("//");
                const std::string code = line.substr(0, comment);
                EXPECT_TRUE(file == "src/seatwright/job/kind_index.hpp" ||
                            code.find("Kind::intake ? 0 : 1") == std::string::npos)
                    << file << ":" << n << ": job::index_of(kind)";
                for (std::sregex_iterator at(code.begin(), code.end(), quoted), end; at != end; ++at) {
                    if (!says_a_kind((*at)[1])) continue;
                    ++seen[file];
                    EXPECT_TRUE(allowed.contains(file)) << file << ":" << n << ": job::kind_word(kind)";
                }
            }
        }
    EXPECT_GT(files, 700);
    for (const auto& [file, why] : allowed) EXPECT_GT(seen[file], 0) << file << " needs no exception now";
}

}  // namespace
}  // namespace seatwright
