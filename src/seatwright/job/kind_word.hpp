// "intake" or "exhaust", as keys and sentences have it.
#pragma once

#include "seatwright/job/head.hpp"

namespace seatwright::job {

constexpr const char* kind_word(Kind kind) {
    return kind == Kind::intake ? "intake" : "exhaust";
}

}  // namespace seatwright::job
