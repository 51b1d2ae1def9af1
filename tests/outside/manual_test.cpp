// The manual page names every command and option that the program's own help names.
#include <gtest/gtest.h>

#include <algorithm>
#include <regex>
#include <set>

#include "outside/program.hpp"

namespace seatwright::outside {
namespace {

std::set<std::string> words_like(const std::string& text, const std::string& pattern) {
    const std::regex expression(pattern);
    std::set<std::string> found;
    for (std::sregex_iterator at(text.begin(), text.end(), expression), end; at != end; ++at)
        found.insert((*at)[1].str());
    return found;
}

std::string in_roff(std::string word) {
    for (std::size_t at = 0; (at = word.find('-', at)) != std::string::npos; at += 2)
        word.insert(at, 1, '\\');
    return word;
}

// roff's input is ASCII; another character goes by its number in Unicode (groff_char(7): \\[uXXXX]).
TEST(Manual, IsWrittenInAscii) {
    const auto page = run("--manual").out;
    EXPECT_TRUE(
        std::all_of(page.begin(), page.end(), [](char c) { return c == '\n' || (c >= ' ' && c <= '~'); }));
    EXPECT_NE(page.find("postgresql://\\[u2026]"), std::string::npos);
}

TEST(Manual, NamesEveryCommandAndOption) {
    const auto help = run("--help").out;
    const auto page = run("--manual").out;
    const auto list = help.substr(help.find("Subcommands:"));
    const auto commands = words_like(list, "\n  ([a-z]+) ");
    ASSERT_GE(commands.size(), 12u);
    for (const auto& command : commands) {
        const auto start = page.find(".SS \"seatwright " + command);
        ASSERT_NE(start, std::string::npos) << command;
        const auto section = page.substr(start, page.find("\n.S", start + 1) - start);
        for (const auto& option :
             words_like(run(command + " --help").out, "\n  (?:-[a-z],)?(--[a-z][a-z-]*)"))
            if (option != "--help") {
                EXPECT_NE(section.find(in_roff(option)), std::string::npos) << command << ' ' << option;
            }
    }
}

}  // namespace
}  // namespace seatwright::outside
