// English, what plan says.
#pragma once

#include <array>

#include "seatwright/words/sentence.hpp"

namespace seatwright::plan {

inline constexpr auto english_table = std::to_array<words::Line>({

    // failure.cpp
    {"plan.program-error",
     "An error of the program itself stopped {stage}: nothing of it is known, and what needs it waits. The "
     "other stages stand. Please report it."},
});

template <Word Id, Word... Names>
Sentence sentence(Given<Names>... given) {
    return words::made<english_table, Id>(std::move(given)...);
}

}  // namespace seatwright::plan
