// How a stage makes a sentence: sentence<"slip">("setup"_is = setup.id, "slope"_is = as_angle(slope)).
//
// Every room has a table of English (words/english_<room>.hpp), which gives it its `sentence`. An id the
// table does not have, a value its template does not name or one that it names and nobody gave does not
// compile.
#pragma once

#include <algorithm>
#include <array>
#include <cstddef>
#include <span>
#include <string_view>
#include <utility>

#include "seatwright/words/line.hpp"
#include "seatwright/words/part.hpp"

namespace seatwright {

// A word known when it is compiled.
template <std::size_t N>
struct Word {
    char text[N]{};
    constexpr Word(const char (&from)[N]) {
        std::copy_n(from, N, text);
    }  // NOLINT(google-explicit-constructor)
    constexpr std::string_view view() const { return {text, N - 1}; }
};

// The word where it stands as long as the program.
template <Word W>
inline constexpr auto stored = W;

template <Word W>
struct Given {
    Part value;
};

template <Word W>
struct Name {
    Given<W> operator=(Part value) const {
        return {std::move(value)};
    }  // NOLINT(misc-unconventional-assign-operator)
};

template <Word W>
constexpr Name<W> operator""_is() {
    return {};
}

namespace words {

// Where the line of that id stands in a table; its size if it does not.
consteval std::size_t line_of(std::span<const Line> table, std::string_view id) {
    std::size_t at = 0;
    while (at < table.size() && own_id(table[at].id) != id) ++at;
    return at;
}

template <const auto& Table, Word Id, Word... Names>
Sentence made(Given<Names>... given) {
    constexpr std::size_t at = line_of(Table, Id.view());
    static_assert(at < Table.size(), "no sentence of that id in the room's English table");
    if constexpr (at < Table.size()) {
        constexpr std::array<std::string_view, sizeof...(Names)> names{Names.view()...};
        static_assert(names_match(Table[at].text, names),
                      "the values given are not those the sentence's template names");
        static_assert(names_within(Table[at].page, names),
                      "the sentence's template for a page names a value that is not given");
        std::vector<NamedValue> values;
        values.reserve(sizeof...(Names));
        (values.push_back({stored<Names>.view(), std::move(given.value)}), ...);
        return {Table[at].id, std::move(values)};
    }
}

}  // namespace words
}  // namespace seatwright
