#include "seatwright/live/gauge_line.hpp"

#include <algorithm>
#include <array>
#include <utility>

#include "seatwright/live/figures.hpp"
#include "seatwright/words/english_live.hpp"

namespace seatwright::live {

namespace {

std::string small(std::string_view text) {
    std::string out(text);
    for (char& c : out)
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    return out;
}

bool digit(char c) {
    return c >= '0' && c <= '9';
}
bool letter(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

// As shown to a person: what cannot be printed as a dot.
std::string shown(std::string_view line) {
    std::string out(line.substr(0, longest_raw));
    for (char& c : out)
        if (static_cast<unsigned char>(c) < ' ' || static_cast<unsigned char>(c) > '~') c = '.';
    return out;
}

// The figure from `at` on: a sign that blanks may follow, digits with one point or comma in them.
std::string figure(std::string_view line, std::size_t& at) {
    std::string out;
    if (at < line.size() && (line[at] == '+' || line[at] == '-')) {
        if (line[at] == '-') out = "-";
        for (++at; at < line.size() && line[at] == ' ';) ++at;
    }
    bool point = false;
    for (; at < line.size(); ++at) {
        const bool within = at + 1 < line.size() && digit(line[at + 1]);
        if (digit(line[at]))
            out += line[at];
        else if (!point && (line[at] == '.' || (line[at] == ',' && within)))
            out += '.', point = true;
        else
            break;
    }
    return out;
}

}  // namespace

std::string unit_of(std::string_view word) {
    static constexpr std::array<std::pair<std::string_view, std::string_view>, 19> words{
        {{"mm", "mm"},
         {"m", "mm"},
         {"millimeter", "mm"},
         {"millimetre", "mm"},
         {"millimeter_3d", "mm"},
         {"in", "in"},
         {"i", "in"},
         {"inch", "in"},
         {"inches", "in"},
         {"\"", "in"},
         {"inch_3d", "in"},
         {"deg", "deg"},
         {"degree", "deg"},
         {"degrees", "deg"},
         {"degree_3d", "deg"},
         {"um", "um"},
         {"micron", "um"},
         {"micrometer", "um"},
         {"micrometre", "um"}}};
    const std::string wanted = small(trimmed(word));
    const auto* at =
        std::find_if(words.begin(), words.end(), [&](const auto& one) { return one.first == wanted; });
    return at == words.end() ? std::string() : std::string(at->second);
}

tl::expected<Observation, Sentence> read_gauge_line(std::string_view line) {
    line = trimmed(line);
    const auto all = "line"_is = shown(line);
    if (line.size() > longest_raw) return tl::unexpected(sentence<"gauge-too-long">(all));
    if (small(line).starts_with("err")) return tl::unexpected(sentence<"gauge-error">(all));
    std::size_t at = 0;
    while (at < line.size() && (letter(line[at]) || line[at] == ' ' || line[at] == ':' || line[at] == '='))
        ++at;
    const auto value = number_of(figure(line, at));
    if (!value) return tl::unexpected(sentence<"gauge-no-number">(all));
    std::string_view rest = trimmed(line.substr(at));
    if (rest.starts_with(',') || rest.starts_with(';')) rest = trimmed(rest.substr(1));
    Observation seen;
    seen.raw = std::string(line);
    seen.numbers = {*value};
    if (!rest.empty()) {
        seen.unit = unit_of(rest);
        if (seen.unit.empty()) return tl::unexpected(sentence<"gauge-no-unit">(all, "unit"_is = shown(rest)));
    }
    return seen;
}

}  // namespace seatwright::live
