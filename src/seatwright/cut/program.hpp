// A route written as a program in RS-274/NGC, in the shop's dialect.
//
// Shape of a program: comments (job, setup, datum, clear height), one line with plane, units, distance and
// feed mode and offset, straight up to the clear height; for each cutter a change with the spindle stopped,
// speed and start; for each seat a comment naming the valve, a rapid at the clear height, the way down in
// three feeds (approach, pilot entry, approach), the cut at its own feed, the dwell, and a rapid straight up.
#pragma once

#include <string>

#include "seatwright/cut/route.hpp"
#include "seatwright/hold/hold.hpp"

namespace seatwright::cut {

// The program as text, lines ended by "\n". Not yet checked: see readback.hpp.
std::string write_program(const job::Job& job, const hold::Setup& setup, const Route& route);

// Where a program's Z zero lies, as words after "Z0: " or "Z zeroed with "; `datum`: the id of the datum
// valve.
std::string z_zero_words(const job::Job& job, const std::string& datum);

// Words safe inside a comment of either style: printable ASCII, no parentheses or semicolons, not too long.
std::string comment_words(std::string_view words);

// How far a number written with the dialect's decimals may be from the one meant, mm.
double written_tolerance(const job::Job& job);

}  // namespace seatwright::cut
