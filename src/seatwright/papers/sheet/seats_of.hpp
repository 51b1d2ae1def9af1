// "Intake seats", at the head of a drawing or a sentence.
#pragma once

#include <string>

#include "seatwright/job/kind_word.hpp"

namespace seatwright::papers {

inline std::string seats_of(job::Kind kind) {
    std::string out = job::kind_word(kind);
    out[0] = static_cast<char>(out[0] - 'a' + 'A');
    return out + " seats";
}

}  // namespace seatwright::papers
