// Words of a control that the shelf gives as text (dialect.top, tool_change, program_end, the float's words)
// and that a program writes as they stand: which of them a seat program can carry without losing what it
// states at its top. Plane, length unit, offsets, distance and feed mode are stated once and hold to the end;
// a word that changes one of them, wherever it stands, is a fault of the shelf. Letters by RS-274/NGC (NISTIR
// 6556); G70, G71 by ISO 6983-1.
#pragma once

#include <string>
#include <string_view>

namespace seatwright::job {

enum class ControlUse {
    top,          // spindle to its highest place, independent of Z0: G53 G0 Z…, or an M word
    tool_change,  // stands after the T word: an M word
    program_end,  // M2 or M30, perhaps with others before it
    float_word    // one M word with its figures
};

// What is wrong with `words` for this use, as the rest of a sentence that begins with the key; empty:
// nothing. A float's "hand" and "self" are no words of a control and not for this.
std::string fault_of_control_words(std::string_view words, ControlUse use);

}  // namespace seatwright::job
