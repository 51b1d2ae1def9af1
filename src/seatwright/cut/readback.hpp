// A program is read back by the interpreter before it is handed out. Its steps are held against the state
// table of working.md, against what the file says it does (the route), and against what head, attitude,
// touches and readings allow (expect.hpp), which does not come from the way to the path.
//
// What is held: plane, units, distance and feed mode, offset and length offset stated before the first move
// and kept; the spindle is stopped before anything else; nothing moves on a Z0 that nobody confirmed for this
// cutter, seat and pilot; no seat is gone to but with its pilot in the tool, or planted, changed beside the
// head by a halt that names it, nor any height before its cutter was looked at
// (pilot_watch.hpp); Z counts as unknown
// from the start and after every halt and change until the way to the top or a slow feed straight to the
// clear height; no sideways move and no rapid while a tip is below its mouth + 5 mm; across only with the
// spindle off and the float centred and locked; spindle, float, waits and feeds of each seat's way in, cut
// and way out; every seat at its place and Z, in order, once, announced by a comment naming its valve; the
// touched seat last; the first file ends over measure_at; the trim in the header is the one in the stops;
// what is held back is named and not there; comments carry letters, digits and plain marks; inside travel and
// speed range. See docs/program.md.
#pragma once

#include <optional>
#include <string_view>

#include "seatwright/cut/expect.hpp"
#include "seatwright/cut/interpret.hpp"
#include "seatwright/cut/route.hpp"

namespace seatwright::cut {

// The first thing found wrong, or nothing: the program does what the route says, and the head allows it.
std::optional<ProgramFault> read_back(std::string_view program, const job::Job& job, const Route& route,
                                      const Expected& expected);

}  // namespace seatwright::cut
