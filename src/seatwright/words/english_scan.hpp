// English, what scan says.
#pragma once

#include <array>

#include "seatwright/words/sentence.hpp"

namespace seatwright::scan {

inline constexpr auto english_table = std::to_array<words::Line>({
    {"scan.one-size",
     "All seats are of one size, or none is seen: which valves are intakes is not known. The job calls them "
     "by "
     "turns: type it."},
    {"scan.other-plane",
     "Another plane lies parallel to the deck, {away} from it, with {share} of its points: if that is the "
     "deck, "
     "cut the other out of the file."},
    {"scan.no-bolt-holes", "No bolt holes were made out: the job has none."},
    {"scan.bolts-in-doubt",
     "Holes of {size} were taken for the bolts' as most are of that size; they do not stand in rows on both "
     "sides of the valves."},
    {"scan.seat-not-seen", "The seat of {valve} is not seen: its height is open."},
    {"scan.face-in-doubt",
     "Which facet of {valve} is the seat's face is in doubt: the one of {angle} was taken."},
    {"scan.seat-off", "The seat of {valve} stands {off} beside its guide's axis."},
    {"scan.no-valve", "No guide is seen well enough to give its axis: no job is written."},
    {"scan.unit-inferred",
     "assumes that the file is in {unit}: it says none, and the surface is {length} long in it"},
    {"scan.deck-largest", "assumes that the deck is the largest plane"},
    {"scan.from-below", "assumes that the casting lies on the side of the deck where most other points are"},
    {"scan.row-along-x", "assumes that the row lies along the file's X: one cylinder does not show it"},
    {"scan.mean-for-centre", "takes the mean of the first cylinder's valves for its centre"},
    {"scan.larger-intakes", "takes for intakes the valves with the larger seats (common practice)"},
    {"scan.noise",
     "u is what the scatter of the points leaves, as it goes together from point to point (it makes the "
     "places' u "
     "{times} times as large as points that err alone would); the scanner's scale is not in it"},
});

template <Word Id, Word... Names>
Sentence sentence(Given<Names>... given) {
    return words::made<english_table, Id>(std::move(given)...);
}

}  // namespace seatwright::scan
