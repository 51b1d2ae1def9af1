// English, what joins lists and sentences.
#pragma once

#include <array>

#include "seatwright/words/sentence.hpp"

namespace seatwright::words {

inline constexpr auto english_table = std::to_array<Line>({
    {"list.row", "{parts}"},
    {"list.key", "{key}"},
    {"list.text", "{text}"},
    {"list.comma", ", "},
    {"list.semicolon", "; "},
    {"list.and", " and "},
    {"list.or", " or "},
    {"list.either", ", or "},
    {"list.more", " and {} more"},
});

template <Word Id, Word... Names>
Sentence sentence(Given<Names>... given) {
    return made<english_table, Id>(std::move(given)...);
}

}  // namespace seatwright::words
