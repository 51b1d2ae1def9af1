// The place of a kind in a list that has an entry for each, in the order of both_kinds.
#pragma once

#include <cstddef>

#include "seatwright/job/head.hpp"

namespace seatwright::job {

constexpr std::size_t index_of(Kind kind) {
    return kind == Kind::intake ? 0 : 1;
}

}  // namespace seatwright::job
