// The word of a lead that would let something held back pass, as `frees` offers it.
#pragma once

#include <string>
#include <string_view>

namespace seatwright {

// "allow = [{ what = "trim 3I", why = …, by = … }]"
std::string allow_words(std::string_view what);

}  // namespace seatwright
