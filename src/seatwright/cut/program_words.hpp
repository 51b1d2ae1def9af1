// What a program says to the person at the machine: its first comments and the sentences of its halts. Each
// line is fit for a comment (comment_words) and short enough for one.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "seatwright/cut/route.hpp"

namespace seatwright::cut {

// Comments are cut off here: the whole line stays well inside the language's 256 characters.
inline constexpr std::size_t longest_comment = 160;

using Sentences = std::vector<std::string>;

// Job, head, setup, cutter, date and digest: the first comment, and the first halt's message.
std::string which_file(const job::Job& job, const hold::Setup& setup, const Route& route);
Sentences top_comments(const job::Job& job, const hold::Setup& setup, const Route& route);
Sentences zero_question(const job::Job& job, const hold::Setup& setup, const Route& route);
// "Ball at X 83.464 mm, Y 22.111 mm on the readout", of a Z0 on the deck; empty where it is taken on a seat,
// or the block stands wherever there is deck.
std::string place_of_zero(const job::Job& job, const shape::Zero& zero);
// "0.2 mm off the deck already?", where Z0, or the figure the first seat is measured by, is of the deck as
// cut; else empty.
std::string deck_question(const job::Job& job, const Route& route);
// "Bring the tool by hand, slowly, over 1E, to Z 121", "At Z 121 the tip stands 5 mm over the deck at 1E:
// look", Z as the control shows it; where no deck lies square enough, that it stands clear of everything.
Sentences look_at_tip(const job::Job& job, const Route& route, int cutter);
// Whether the pilot planted for each Z0 is one of those the file's seats are cut on; else they are planted
// after it.
bool planted_for_zero(const Route& route);
Sentences plant_now(const job::Job& job, const Route& route);
Sentences put_pilot(const job::Job& job, const Stop& stop);
// Every seat cut before the route's halt to measure, and what it shall read.
Sentences measure_first(const job::Job& job, const Route& route);
// "it should have come 0.09 mm deep"; the stem height or the depth below the deck instead where the old seat
// was not read. `length` says a length, mm.
std::string reading_words(const Stop& stop, const std::function<std::string(double)>& length);
std::string cutter_words(const job::Job& job, const Tool& tool);

// A length in the program's unit as a person says it, "121 mm", "4.764 in".
std::string said(const job::Job& job, double mm);

// Sentences parted at blanks so that each fits.
Sentences in_lines(const Sentences& sentences);

}  // namespace seatwright::cut
