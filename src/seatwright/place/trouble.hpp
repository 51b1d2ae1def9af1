// What the operating system says when a folder or a line does not do as asked, for who stands at the machine.
#pragma once

#include <string>

namespace seatwright::place {

// "is full: make room there" of ENOSPC, "went away while …" of what a share or a stick that is pulled out
// gives; `fault` is an errno.
std::string trouble_words(int fault);

}  // namespace seatwright::place
