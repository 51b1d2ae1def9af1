// What would be right for a key, said beside what is wrong.
#pragma once

#include <string>
#include <string_view>

#include "seatwright/job/keys.hpp"

namespace seatwright::job {

// "wanted: a length as a number in mm or a text such as …"; `units`: of bare lengths.
std::string wanted(const Key& key, LengthUnit units);

// Its part for a single number: "a length as a number in mm or …".
std::string quantity_wanted(const Key& key, LengthUnit units);

// The choices of a key, parted by |, as a list of words in quotes.
std::string in_list(std::string_view choices);

}  // namespace seatwright::job
