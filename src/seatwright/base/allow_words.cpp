#include "seatwright/base/allow_words.hpp"

#include <fmt/format.h>

namespace seatwright {

std::string allow_words(std::string_view what) {
    return fmt::format("allow = [{{ what = \"{}\", why = …, by = … }}]", what);
}

}  // namespace seatwright
