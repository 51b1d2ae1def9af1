// The house rule: no stage makes words. What it says is a sentence of the catalogue (by type: Warning,
// HeldBack), said at the rim; a program's own comments and what its read-back finds are the papers' own
// words. What else stands outside the catalogue is listed here as docs/words.md lists it.
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <optional>
#include <string>
#include <string_view>
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

// Whether a call of one of those names opens at `at`.
bool opens_call_of(const std::vector<std::string>& names, std::string_view source, std::size_t at) {
    const std::string_view before = source.substr(0, at);
    return std::any_of(names.begin(), names.end(), [&](const auto& name) { return before.ends_with(name); });
}

// Texts in quotes of a source, those that follow each other put together; without what comments hold and what
// stands in a call of one of the `left_out`.
std::vector<std::string> texts_of(const std::string& source, const std::vector<std::string>& left_out = {}) {
    std::vector<std::string> out;
    bool goes_on = false;  // nothing but blanks since the last text
    int depth = 0;
    std::optional<int> within;  // the depth at which a call that is left out opened
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
            if (within) continue;
            if (goes_on)
                out.back() += text;
            else
                out.push_back(text);
            goes_on = true;
        } else if (std::isspace(static_cast<unsigned char>(source[at])) == 0) {
            goes_on = false;
            if (source[at] == '(') {
                ++depth;
                if (!within && opens_call_of(left_out, source, at)) within = depth;
            } else if (source[at] == ')') {
                if (within == depth) within.reset();
                --depth;
            }
        }
    }
    return out;
}

// A text as it is written, without line ends at its ends.
std::string_view without_line_ends(std::string_view text) {
    while (text.starts_with("\\n")) text.remove_prefix(2);
    while (text.ends_with("\\n")) text.remove_suffix(2);
    return text;
}

// "Posts {} apart; clamps tight.": four words or more from a capital letter to a stop. One that names an
// option of the command line is a terminal's.
bool is_a_sentence(std::string_view text) {
    constexpr long least_blanks = 3;
    text = without_line_ends(text);
    return !text.empty() && std::isupper(static_cast<unsigned char>(text.front())) != 0 &&
           (text.back() == '.' || text.back() == '?') && text.find(" --") == std::string_view::npos &&
           std::count(text.begin(), text.end(), ' ') >= least_blanks;
}

// Letters, with a stop behind them at most: no key, path, format or place in a template.
bool is_a_word(std::string_view piece) {
    const std::size_t end = piece.find_last_not_of(",.;?!)");
    if (end == std::string_view::npos) return false;
    piece = piece.substr(0, end + 1);
    return std::isalpha(static_cast<unsigned char>(piece.front())) != 0 &&
           std::all_of(piece.begin(), piece.end(),
                       [](unsigned char c) { return std::isalpha(c) != 0 || c == '\'' || c == '-'; });
}

long words_in(std::string_view text) {
    long count = 0;
    for (text = without_line_ends(text); !text.empty();) {
        const std::size_t end = std::min(text.find(' '), text.size());
        if (end > 0 && is_a_word(text.substr(0, end))) ++count;
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    return count;
}

// What is no warning, cause or instruction (docs/words.md): the key table of readings, comments of a job file
// that is made, what is written beside a picture, a survey's figures at a terminal.
bool has_other_words(const std::string& file) {
    return file.ends_with("survey/keys.cpp") || file.ends_with("job_text.cpp") ||
           file.find("papers/drawings/") != std::string::npos || file.ends_with("papers/bundle.cpp") ||
           file.ends_with("brought/text_survey.cpp");
}

std::string source_of(const fs::path& file) {
    std::ifstream in(file);
    return {std::istreambuf_iterator<char>(in), {}};
}

bool is_source(const fs::path& file) {
    return file.extension() == ".cpp" || file.extension() == ".hpp";
}

TEST(House, WholeSentencesStandInTheCatalogue) {
    const auto texts =
        texts_of("f(\"Nobody stands \"\n  \"under it.\", '\"', \"so\"); // \"Not this one either.\"\n");
    ASSERT_EQ(texts, (std::vector<std::string>{"Nobody stands under it.", "so"}));
    EXPECT_TRUE(is_a_sentence(texts[0]));
    EXPECT_TRUE(is_a_sentence("\\nNobody stands under it.\\n"));
    EXPECT_FALSE(is_a_sentence("stands {} in a heading"));
    EXPECT_FALSE(is_a_sentence("It can be said: --end-for-end."));
    int seen = 0, left = 0;
    for (const std::string room : {"drawing", "scan", "survey", "forecast", "casting", "plan", "report",
                                   "papers", "brought", "batch", "store"})
        for (const auto& entry :
             fs::recursive_directory_iterator(fs::path(places::root) / "src" / "seatwright" / room)) {
            if (!is_source(entry.path())) continue;
            const std::string name = entry.path().generic_string();
            ++seen;
            for (const std::string& text : texts_of(source_of(entry.path())))
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

// What is said of a control, a source of readings or a place begins small or with a name, so any run of words
// counts.
TEST(House, WhatIsSaidOfControlsAndSourcesStandsInTheCatalogue) {
    EXPECT_EQ(words_in("the line {} {}; send it again\\n"), 5);
    EXPECT_EQ(words_in("GET {} HTTP/1.1 text/xml sample?from={}&count={}"), 1);
    constexpr long least_words = 3;
    int seen = 0;
    for (const std::string room : {"live", "place"})
        for (const auto& entry :
             fs::recursive_directory_iterator(fs::path(places::root) / "src" / "seatwright" / room)) {
            if (!is_source(entry.path())) continue;
            ++seen;
            for (const std::string& text : texts_of(source_of(entry.path())))
                EXPECT_LT(words_in(text), least_words)
                    << entry.path() << ": \"" << text << "\" stands outside the catalogue";
        }
    EXPECT_GT(seen, 30);
}

// Of the server's rooms, what docs/words.md leaves out beside refusals and the log.
const std::vector<std::string> server_files_left_out{
    // The reasons behind a figure, titles of drawings and papers, feet of pages.
    "answers/why.cpp", "answers/drawings.cpp", "answers/paper_files.cpp", "answers/issued.cpp",
    // Files that are made: an export, job files with their comments.
    "answers/everything.cpp", "answers/castings.cpp", "answers/survey_state.cpp", "jobs/survey_text.cpp",
    "intake/shop_check.cpp",
    // Figures for who watches over the server.
    "answers/administration.cpp",
    // What a long task is at.
    "answers/prepare.cpp",
    // Lines of the ledger and of a text's versions.
    "routes/jobs.cpp", "routes/people.cpp", "routes/scans.cpp",
    // Refusals and faults of what was typed, put together before they are thrown.
    "intake/permission.cpp", "intake/six_answers.cpp"};

TEST(House, WhatTheServerSaysStandsInTheCatalogue) {
    const std::vector<std::string> refusals_and_log{
        "http_error",    "refuse",       "found",       "unexpected", "unexpected<std::string>",
        "spdlog::error", "spdlog::warn", "spdlog::info"};
    ASSERT_EQ(texts_of("refuse(404, f(\"there is none\")); say(\"it waits\");", refusals_and_log),
              std::vector<std::string>{"it waits"});
    constexpr long least_words = 4;
    int seen = 0;
    auto unused = server_files_left_out;
    for (const std::string room : {"feeds", "places", "answers", "jobs", "intake", "routes"})
        for (const auto& entry :
             fs::recursive_directory_iterator(fs::path(places::root) / "apps" / "server" / room)) {
            if (!is_source(entry.path())) continue;
            ++seen;
            const std::string name = room + "/" + entry.path().filename().string();
            const bool left_out = std::find(server_files_left_out.begin(), server_files_left_out.end(),
                                            name) != server_files_left_out.end();
            for (const std::string& text : texts_of(source_of(entry.path()), refusals_and_log)) {
                if (words_in(text) < least_words || text.starts_with("select ")) continue;
                if (left_out)
                    std::erase(unused, name);
                else
                    ADD_FAILURE() << name << ": \"" << text << "\" stands outside the catalogue";
            }
        }
    EXPECT_GT(seen, 100);
    EXPECT_EQ(unused, std::vector<std::string>{}) << "files that are left out have other words";
}

}  // namespace
}  // namespace seatwright
