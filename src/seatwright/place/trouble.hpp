// What the operating system says when a folder or a line does not do as asked, for who stands at the machine.
#pragma once

#include "seatwright/words/part.hpp"

namespace seatwright::place {

// What stands behind the name of the folder or the line: "is full: make room there" of ENOSPC, "went away: …"
// of what a share or a stick that is pulled out gives; `fault` is an errno.
Sentence trouble_of(int fault);

}  // namespace seatwright::place
