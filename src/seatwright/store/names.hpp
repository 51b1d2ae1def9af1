// Names that look alike are one name: nobody signs as somebody else by writing a Cyrillic a. Unicode
// Technical Standard 39, confusable skeletons, by ICU.
#pragma once

#include <string>

namespace seatwright::store {

// Whether people would take one for the other: the same skeleton, as written or without regard to capitals.
bool look_alike(const std::string& a, const std::string& b);

// The same text for names that differ in capitals or look alike then: under which wrong guesses are counted.
std::string one_name(const std::string& name);

}  // namespace seatwright::store
