// A program is read back by the interpreter before it is handed out and its steps are held against the route.
//
// What is held: plane, units, distance and feed mode and offset stated before the first move and kept; the
// first move straight to the clear height; no rapid with an end below the clear height except straight up; no
// sideways feed; every seat reached at its place, in order, announced by a comment naming its valve, with its
// cutter, at its speed, cut at its feed, the pilot let in at its own feed, dwelt on long enough; nothing
// deeper or elsewhere; cutter changed and spindle stopped only at the clear height; inside the machine's
// travel, speeds inside its range; the spindle stopped and the tool clear at the end. See docs/program.md.
#pragma once

#include <optional>
#include <string_view>

#include "seatwright/cut/interpret.hpp"
#include "seatwright/cut/route.hpp"

namespace seatwright::cut {

// The first thing found wrong, or nothing: the program does exactly what the route says.
std::optional<ProgramFault> read_back(std::string_view program, const job::Job& job, const Route& route);

}  // namespace seatwright::cut
