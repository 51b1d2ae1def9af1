// The house rule: what a header of the library declares is called somewhere in src, apps, bench or fuzz. What
// only a test calls is not there for anybody, and proves nothing by passing.
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <filesystem>
#include <fstream>
#include <map>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "places.hpp"

namespace seatwright {
namespace {

namespace fs = std::filesystem;

// For tests, and said so where they are declared.
constexpr std::array allowed{
    "philox_one",         // one counter against the published answers
    "philox_ways_agree",  // each vector width against plain numbers
    "parsed_so_far",      // how often a text was parsed
    "faults_of",          // what is wrong with a catalogue of words
};

bool of_a_word(char c) {
    return c == '_' || std::isalnum(static_cast<unsigned char>(c)) != 0;
}

// Without comments and what stands between quotes.
std::vector<std::string> code_of(const fs::path& path) {
    std::ifstream file(path);
    std::vector<std::string> out;
    for (std::string line; std::getline(file, line);) {
        std::string code;
        for (std::size_t i = 0; i < line.size(); ++i) {
            if (line.compare(i, 2, "//") == 0) break;
            code += line[i];
            if (line[i] != '"') continue;
            for (++i; i < line.size() && line[i] != '"'; ++i)
                if (line[i] == '\\') ++i;
        }
        out.push_back(code);
    }
    return out;
}

std::map<std::string, int> words_of(const std::vector<std::string>& code) {
    std::map<std::string, int> out;
    for (const auto& line : code)
        for (std::size_t i = 0; i < line.size();) {
            std::size_t end = i;
            while (end < line.size() && of_a_word(line[end])) ++end;
            if (end > i) ++out[line.substr(i, end - i)];
            i = std::max(end, i + 1);
        }
    return out;
}

// The name of the function a line declares, behind its type: "double median(…"; empty if it declares none.
std::string declared(const std::string& line) {
    const auto bracket = line.find('(');
    if (bracket == std::string::npos || bracket == 0) return {};
    std::size_t from = bracket;
    while (from > 0 && of_a_word(line[from - 1])) --from;
    const std::string name = line.substr(from, bracket - from), type = line.substr(0, from);
    const auto first = type.find_first_not_of(' ');
    if (name.empty() || first == std::string::npos) return {};
    if (type.find_first_not_of(" :<>,&*_abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789") !=
        std::string::npos)
        return {};
    if (std::string_view(" &*").find(type.back()) == std::string_view::npos) return {};
    std::size_t end = first;
    while (of_a_word(type[end])) ++end;
    static const std::set<std::string> no_types{"return", "else", "throw", "case", "using", "new"};
    return no_types.contains(type.substr(first, end - first)) ? std::string() : name;
}

TEST(House, WhatAHeaderDeclaresIsCalled) {
    std::map<std::string, std::map<std::string, int>> words;  // by file
    std::map<std::string, int> all;
    std::map<std::string, std::map<std::string, int>> declares;  // by header
    for (const std::string folder : {"src", "apps", "bench", "fuzz"})
        for (const auto& entry : fs::recursive_directory_iterator(fs::path(places::root) / folder)) {
            const auto& path = entry.path();
            if (path.extension() != ".cpp" && path.extension() != ".hpp") continue;
            const auto code = code_of(path);
            const std::string file = path.string();
            words[file] = words_of(code);
            for (const auto& [word, count] : words[file]) all[word] += count;
            if (folder != "src" || path.extension() != ".hpp") continue;
            for (const auto& line : code)
                if (const auto name = declared(line); !name.empty()) ++declares[file][name];
        }
    int seen = 0;
    std::set<std::string> unused;
    for (const auto& [header, names] : declares) {
        const auto own = words.find(fs::path(header).replace_extension(".cpp").string());
        for (const auto& [name, times] : names) {
            ++seen;
            const int here = words[header][name];
            const auto at =
                own == words.end() ? std::map<std::string, int>::const_iterator{} : own->second.find(name);
            const int there = own == words.end() || at == own->second.end() ? 0 : at->second;
            // As often as it is declared: nothing but its definitions.
            if (all[name] > here + there || here > times || there > times) continue;
            unused.insert(name);
            EXPECT_TRUE(std::find(allowed.begin(), allowed.end(), name) != allowed.end())
                << header << ": nothing calls " << name;
        }
    }
    EXPECT_GT(seen, 1500);
    for (const char* name : allowed) EXPECT_TRUE(unused.contains(name)) << name << " is called now";
}

}  // namespace
}  // namespace seatwright
