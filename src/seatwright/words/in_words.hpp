// The rim: a sentence in words, for a unit and a language.
#pragma once

#include <string>
#include <vector>

#include "seatwright/words/catalogue.hpp"
#include "seatwright/words/part.hpp"

namespace seatwright {

// How it is said.
struct Speech {
    LengthUnit unit = LengthUnit::mm;
    const words::Catalogue* catalogue = &words::english();
};

// Throws std::logic_error where the catalogue has no such sentence or the sentence lacks a value: a test
// holds every line of every catalogue against English, which is held against its use by the compiler.
std::string in_words(const Sentence& sentence, const Speech& speech);
std::string in_words(const Part& value, const Speech& speech);
std::vector<std::string> in_words(const std::vector<Sentence>& sentences, const Speech& speech);

}  // namespace seatwright
