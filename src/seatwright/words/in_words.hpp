// The rim: a sentence in words, for a unit, a language and who reads it.
#pragma once

#include <string>
#include <vector>

#include "seatwright/words/catalogue.hpp"
#include "seatwright/words/part.hpp"

namespace seatwright {

// How it is said: to who reads and writes the file, at a terminal or on paper, or on a page, which has a
// button where the file has a line to write, and a label where the file has a key (job::on_page).
struct Speech {
    LengthUnit unit = LengthUnit::mm;
    const words::Catalogue* catalogue = &words::english();
    Sentence (*name_of)(std::string_view key) = nullptr;  // what a page calls a key; none: not on a page

    bool on_page() const { return name_of != nullptr; }
};

// Throws std::logic_error where the catalogue has no such sentence or the sentence lacks a value: a test
// holds every line of every catalogue against English, which is held against its use by the compiler.
std::string in_words(const Sentence& sentence, const Speech& speech);
std::string in_words(const Part& value, const Speech& speech);
std::vector<std::string> in_words(const std::vector<Sentence>& sentences, const Speech& speech);

}  // namespace seatwright
