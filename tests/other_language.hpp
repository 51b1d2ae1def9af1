// A language for tests that nobody speaks: English with each letter thirteen further on, so that no sentence
// of it can be taken for an English one. What is said in it holds no run of words of the English catalogue,
// unless somebody said that without the catalogue.
#pragma once

#include <algorithm>
#include <deque>
#include <functional>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "seatwright/words/catalogue.hpp"

namespace seatwright::fixtures {

// Every template put through `change`, those for a page as well; the texts stand as long as the catalogue.
struct Other {
    std::deque<std::string> texts;
    std::unique_ptr<words::Catalogue> catalogue;
};
inline Other english_changed(const std::function<std::string(const words::Line&)>& change) {
    Other out;
    std::vector<words::Line> lines;
    for (const words::Line& line : words::english().lines())
        lines.push_back(
            {line.id, out.texts.emplace_back(change(line)),
             line.page.empty() ? std::string_view() : out.texts.emplace_back(change({line.id, line.page}))});
    out.catalogue = std::make_unique<words::Catalogue>(lines);
    return out;
}

inline std::string thirteen_on(std::string_view text) {
    std::string out(text);
    for (char& c : out) {
        if (c >= 'a' && c <= 'z') c = static_cast<char>('a' + (c - 'a' + 13) % 26);
        if (c >= 'A' && c <= 'Z') c = static_cast<char>('A' + (c - 'A' + 13) % 26);
    }
    return out;
}

// What stands in a template beside its places, in order.
inline std::vector<std::string> between_places(std::string_view text) {
    std::vector<std::string> out;
    for (std::size_t at = 0; at < text.size();) {
        const words::Place place = words::next_place(text, at);
        out.emplace_back(text.substr(at, place.from - at));
        at = place.to;
    }
    return out;
}

inline Other other_language() {
    return english_changed([](const words::Line& line) {
        std::string out;
        for (std::size_t at = 0; at < line.text.size();) {
            const words::Place place = words::next_place(line.text, at);
            out += thirteen_on(line.text.substr(at, place.from - at));
            at = place.to;
            if (place.from == line.text.size()) break;
            out += "{" + std::string(place.name);
            if (!place.forms.empty()) out += ":" + thirteen_on(place.forms);
            out += "}";
        }
        return out;
    });
}

// One blank for any run of them: lines are broken where there is room.
inline std::string squeezed(std::string_view text) {
    std::string out;
    for (const char c : text) {
        const bool blank = c == ' ' || c == '\n' || c == '\t';
        if (!blank)
            out += c;
        else if (!out.empty() && out.back() != ' ')
            out += ' ';
    }
    while (!out.empty() && out.back() == ' ') out.pop_back();
    return out;
}

// Runs of four words or more of the English catalogue.
inline const std::vector<std::string>& english_runs() {
    static const std::vector<std::string> all = [] {
        constexpr long least_words = 4;
        constexpr std::size_t least_letters = 12;
        std::vector<std::string> out;
        for (const words::Line& line : words::english().lines())
            for (const std::string_view text : {line.text, line.page})
                for (const std::string& part : between_places(text)) {
                    std::string run = squeezed(part);
                    run.erase(0, run.find_first_not_of(" .,;:()"));
                    if (run.size() >= least_letters &&
                        std::count(run.begin(), run.end(), ' ') >= least_words - 1)
                        out.push_back(std::move(run));
                }
        return out;
    }();
    return all;
}

// Those that stand in what was said.
inline std::vector<std::string> english_left(std::string_view said) {
    const std::string text = squeezed(said);
    std::vector<std::string> out;
    for (const std::string& run : english_runs())
        if (text.find(run) != std::string::npos) out.push_back(run);
    return out;
}

// How many of them stand in it in the other language.
inline std::size_t runs_of_other(std::string_view said) {
    const std::string text = squeezed(said);
    return static_cast<std::size_t>(std::count_if(
        english_runs().begin(), english_runs().end(),
        [&](const std::string& run) { return text.find(thirteen_on(run)) != std::string::npos; }));
}

}  // namespace seatwright::fixtures
