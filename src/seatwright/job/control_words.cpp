#include "seatwright/job/control_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <optional>
#include <vector>

namespace seatwright::job {

namespace {

struct ControlWord {
    char letter = ' ';
    double value = 0;
    std::string said() const { return fmt::format("{}{}", letter, value); }
};

constexpr std::size_t longest_words = 80;  // characters; a line of the language has 256

// Letters followed by plain decimal numbers, blanks between; anything else is none.
std::optional<std::vector<ControlWord>> taken_apart(std::string_view text) {
    std::vector<ControlWord> words;
    std::string squeezed;
    for (const char c : text)
        if (c != ' ' && c != '\t') squeezed.push_back(c);
    std::size_t at = 0;
    while (at < squeezed.size()) {
        const auto letter = static_cast<unsigned char>(squeezed[at]);
        if (std::isalpha(letter) == 0) return std::nullopt;
        const std::size_t start = ++at;
        if (at < squeezed.size() && (squeezed[at] == '-' || squeezed[at] == '+')) ++at;
        while (at < squeezed.size() &&
               (std::isdigit(static_cast<unsigned char>(squeezed[at])) != 0 || squeezed[at] == '.'))
            ++at;
        const std::string digits = squeezed.substr(start, at - start);
        if (std::none_of(digits.begin(), digits.end(),
                         [](unsigned char c) { return std::isdigit(c) != 0; }) ||
            std::count(digits.begin(), digits.end(), '.') > 1)
            return std::nullopt;
        words.push_back({static_cast<char>(std::toupper(letter)), std::strtod(digits.c_str(), nullptr)});
    }
    return words;
}

// What a G word would change that a program states once and for all; empty: none of these.
std::string changed_by(const ControlWord& word) {
    const int g = static_cast<int>(std::floor(word.value + 1e-4));
    if (g == 90 || g == 91 || g == 7 || g == 8) return "the distance mode";
    if (g == 20 || g == 21 || g == 70 || g == 71) return "the length unit";
    if (g >= 17 && g <= 19) return "the plane";
    if (g >= 93 && g <= 95) return "the feed mode";
    if ((g >= 54 && g <= 59) || g == 52 || g == 92 || g == 10 || g == 43 || g == 44 || g == 49)
        return "the offsets";
    if ((g >= 40 && g <= 42) || g == 15 || g == 16 || g == 50 || g == 51 || g == 68 || g == 69)
        return "where the tool goes";
    return "";
}

bool spindle_or_flow(double m) {
    // Stops, ends, spindle, cutter change, calls of another program.
    return m <= 6 || m == 19 || m == 30 || m == 60 || m == 98 || m == 99;
}

std::string fault_of_g(const ControlWord& word, ControlUse use) {
    if (const std::string what = changed_by(word); !what.empty())
        return fmt::format("has {}, which would change {} for the rest of the program; leave it out",
                           word.said(), what);
    if (word.value == 28 || word.value == 30)
        return fmt::format(
            "has {}, which goes by way of a place counted from Z0; wanted: a way up that does not ask where "
            "Z0 "
            "is, such as G53 G0 Z0",
            word.said());
    if (use == ControlUse::top && (word.value == 53 || word.value == 0)) return "";
    return fmt::format("has {}, which has no place there", word.said());
}

std::string fault_of_m(const ControlWord& word, ControlUse use) {
    if (word.value < 0 || word.value != std::floor(word.value))
        return fmt::format("has {}, which is no M word", word.said());
    const double m = word.value;
    const bool end = m == 2 || m == 30;
    switch (use) {
        case ControlUse::program_end:
            if (end || m == 5 || m == 9 || !spindle_or_flow(m)) return "";
            break;
        case ControlUse::tool_change:
            if (m == 6 || m == 0 || !spindle_or_flow(m)) return "";
            break;
        case ControlUse::top:
        case ControlUse::float_word:
            if (!spindle_or_flow(m)) return "";
            break;
    }
    return fmt::format("has {}, which stops, ends, turns or calls something else", word.said());
}

std::string fault_of_other(const ControlWord& word, ControlUse use) {
    const bool figure = word.letter == 'P' || word.letter == 'Q' || word.letter == 'E' || word.letter == 'L';
    if (figure && use != ControlUse::program_end) return "";
    if (use == ControlUse::top && word.letter == 'Z') return "";
    return fmt::format("has {}, which has no place there", word.said());
}

// What is missing from words each of which may stand.
std::string fault_of_whole(const std::vector<ControlWord>& words, ControlUse use) {
    const auto count = [&](char letter) {
        return std::count_if(words.begin(), words.end(),
                             [&](const ControlWord& w) { return w.letter == letter; });
    };
    const auto has = [&](char letter, double value) {
        return std::any_of(words.begin(), words.end(),
                           [&](const ControlWord& w) { return w.letter == letter && w.value == value; });
    };
    switch (use) {
        case ControlUse::top:
            if (count('Z') > 0 && !(has('G', 53) && has('G', 0)))
                return "moves Z without G53 G0: a place counted from Z0 is no highest place";
            if (count('Z') > 1) return "moves Z twice";
            if (count('Z') == 0 && count('G') > 0) return "has no Z to bring up";
            return count('Z') + count('M') > 0 ? ""
                                               : "moves nothing; wanted: G53 G0 Z0 or a word of the control";
        case ControlUse::tool_change:
            return count('M') > 0 ? "" : "has no M word; wanted: M6";
        case ControlUse::program_end:
            return has('M', 2) || has('M', 30) ? "" : "does not end the program; wanted: M2 or M30";
        case ControlUse::float_word:
            return count('M') == 1
                       ? ""
                       : "is not one M word; wanted: a word of the control such as M62 P1, or hand";
    }
    return "";
}

}  // namespace

std::string fault_of_control_words(std::string_view text, ControlUse use) {
    if (text.size() > longest_words)
        return fmt::format("is longer than {} characters; wanted: one line's words", longest_words);
    const auto words = taken_apart(text);
    if (!words || words->empty())
        return "is not made of letters each followed by a number; wanted: words of one line, such as M6";
    for (const ControlWord& word : *words) {
        std::string fault = word.letter == 'G'   ? fault_of_g(word, use)
                            : word.letter == 'M' ? fault_of_m(word, use)
                                                 : fault_of_other(word, use);
        if (!fault.empty()) return fault;
    }
    return fault_of_whole(*words, use);
}

}  // namespace seatwright::job
