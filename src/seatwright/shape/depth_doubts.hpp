// Depths and recessions that cannot be, as far as the trade knows (working.md, "What blocks, what asks, what
// tells"): asked about once.
#pragma once

#include <string>
#include <vector>

#include "seatwright/job/doubts.hpp"
#include "seatwright/shape/shape.hpp"

namespace seatwright::shape {

// A seat cut deeper than this at once is asked about: trade limits of stock from one seat end at 0.3 mm.
inline constexpr double most_depth = 1.0;  // mm

// Trade limits of recession end at 2.3 mm.
inline constexpr double most_recession = 3.0;  // mm
// A seat this proud of its drawing height is more likely a sign turned round: new rings stand some tenths
// proud at most (common practice).
inline constexpr double most_proud = 0.5;  // mm

// A length as a question says it, in the job's unit.
Figure figure(double mm);
// Whether somebody confirmed a reading of that old seat.
bool said_sure(const job::Job& job, const std::string& head, const std::string& valve);

// Of recessions that other readings than a recession give, and that nobody confirmed.
std::vector<job::Doubt> recession_doubts(const job::Job& job, const Shape& shape);
// An old face far wider than the form, or beside it, would put the cutter's rest this far from the old
// height: a face 0.7 wider along the cone gives 0.2 (working.md B2).
inline constexpr double most_rest = 0.5;  // mm

// Of readings that say so of an old seat and that nobody confirmed: a figure slipped there sinks every seat
// whose Z0 is touched on it, so that nothing of the head is cut before.
std::vector<job::Doubt> rest_doubts(const job::Job& job, const Shape& shape);
// Of an old seat's section as read: its points lie about the seat's own circle, so one at less than a quarter
// of its radius, at more than twice it, or as far above or below as the circle is wide from its middle, was
// typed wrong. It would count for nothing, or for everything.
inline constexpr double least_section_radius = 0.25, most_section_radius = 2;  // of the gauge circle's
std::vector<job::Doubt> section_doubts(const job::Job& job, const Shape& shape);
// Of cutters that take Z0 from the deck and whose lowest edge, as the shelf has it, lies above the form's own
// lowest or far below it.
std::vector<job::Doubt> lowest_doubts(const job::Job& job, const Shape& shape);
// Z of the cutter at rest on the seat Z0 was touched on is 0: a reading further off than twice what a touch
// tells (U 0.06, working.md B7) says that Z0 has moved, or was taken elsewhere.
inline constexpr double most_rest_at_zero = 0.12;  // mm
std::vector<job::Doubt> zero_rest_doubts(const job::Job& job, const Shape& shape);
// depth.deck_at further than this outside all that is known of the head, in x or y: decks end 10 to 30 mm
// beyond their outermost bolt holes (common practice).
inline constexpr double most_off_head = 60;  // mm
// So is one within a cylinder's bore, where that is known, or by the ball's radius beside it.
std::vector<job::Doubt> deck_place_doubts(const job::Job& job);
// Of old seats that two readings give different figures of (job/repeated.hpp). Where the Z0 of other seats is
// touched on it, they wait too.
std::vector<job::Doubt> repeated_doubts(const job::Job& job, const Shape& shape);
// Of first seats that were read as no deeper than they were before (a depth of 0, or the height that was read
// before), though a file was to cut them: the seat was not cut yet, or another one was read.
std::vector<job::Doubt> uncut_doubts(const job::Job& job, const Shape& shape);
// Of planned depths that nobody confirmed by a reading of cleanup, an order of a depth or `sure`.
std::vector<job::Doubt> depth_doubts(const job::Job& job, const Shape& shape);

// Says where the only recession with a minus among three or more would fit the others with a plus
// (nearer to their median by half, which is 0.1 mm or more): found in the virtual shop, where one such Z0
// seat sank the first seat beyond its limit. A note, since proud seats exist.
std::vector<Warning> odd_signs(const job::Job& job, const Shape& shape);

// Adds all that shape has to ask; `open`: how many questions stand open already.
void ask_about_seats(const job::Job& job, Shape& shape, std::size_t open);

}  // namespace seatwright::shape
