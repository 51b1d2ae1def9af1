// "intake" or "exhaust", as keys and sentences have it.
#pragma once

#include "seatwright/job/head.hpp"
#include "seatwright/words/english_job.hpp"

namespace seatwright::job {

constexpr const char* kind_word(Kind kind) {
    return kind == Kind::intake ? "intake" : "exhaust";
}

// The same in a sentence.
inline Sentence kind_said(Kind kind) {
    return kind == Kind::intake ? sentence<"intake">() : sentence<"exhaust">();
}

}  // namespace seatwright::job
