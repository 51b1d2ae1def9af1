// Whether two texts say the same, whatever their spacing, order and comments.
#pragma once

#include "seatwright/toml/document.hpp"
#include "seatwright/toml/path.hpp"

namespace seatwright::toml {

// The same values: tables by their names, lists entry by entry. What is no number (nan) is the same as
// another. Depth is bounded by the limits of fault.hpp.
bool same(const Value& a, const Value& b);

// The one difference there is to be between two texts.
struct Difference {
    enum class How {
        set,      // the value at the path is `value`, and may not have been there before
        removed,  // nothing is at the path any more; tables and lists left empty may be gone with it
        appended  // the list at the path, which may not have been there, has `value` as one more entry
    };
    Path path{};
    How how = How::set;
    Value value{};
};
bool differs_by(const Value& before, const Value& after, const Difference& difference);

}  // namespace seatwright::toml
