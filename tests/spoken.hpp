// A sentence in English words, for tests of what is said; job units are mm but where a test says otherwise.
#pragma once

#include <string>

#include "seatwright/words/in_words.hpp"

namespace seatwright {

inline std::string spoken(const Sentence& sentence, LengthUnit unit = LengthUnit::mm) {
    return in_words(sentence, Speech{unit});
}

// A sentence that says this, whatever the unit.
inline Sentence saying(std::string text) {
    return as_it_stands(std::move(text));
}

}  // namespace seatwright
