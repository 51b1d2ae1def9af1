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

    // brought/draw_scan.cpp
    {"scan.look-at-all", "Look at every feature over its points before a plan is made of it."},

    // changes.cpp
    {"scan.kind-in-doubt", "whether it is an intake or an exhaust is not known"},
    {"scan.facet-in-doubt", "which facet is the seat's face is in doubt"},
    {"scan.seat-beside", "its seat stands {off} beside its guide's axis"},
    {"scan.bolt-in-doubt", "whether it is a bolt's is in doubt"},
    {"scan.settle-valve", "{doubt}: confirm it, rename it or drop it"},
    {"scan.settle-hole", "{doubt}: confirm it, say what it is or drop it"},
    {"scan.not-among", "is not among the features found"},
    {"scan.no-valves-name",
     "'{name}' is no valve's name: a cylinder, I or E and a letter where a cylinder has several were wanted, "
     "such as 2Ea"},
    {"scan.two-of-one-name", "is the name of two valves; each has its own"},

    // what is missing: what, why, what to do next
    {"scan.guide", "guide {valve}"},
    {"scan.spacing-puts-one", "not seen: the others' spacing puts one at {x}, {y}"},
    {"scan.touch-or-again", "touch it (survey), or scan it again"},
    {"scan.too-short", "only {length} of its bore is seen: below {least} it gives no axis"},
    {"scan.pin-or-sensor",
     "scan it again with a pin standing in the guide, or read it with the sensor on a pilot (survey)"},
    {"scan.too-little-turn", "only {arc} of its turn is seen: below {least} it gives no axis"},
    {"scan.other-side", "scan it again from the other side, or with a pin standing in the guide"},
    {"scan.z-of", "z of {valves}"},
    {"scan.half-a-seat", "the seat is not seen over half of its turn"},
    {"scan.read-or-type-z", "read one valve of each kind below deck (survey), or type z"},
    {"scan.kind-of-every", "kind of every valve"},
    {"scan.seats-show-none", "seats of one size, or none, do not show it"},
    {"scan.look-which-row", "look which row takes the intakes: type head.valve.kind",
     "look which row takes the intakes: type head valve kind"},
    {"scan.may-be-bores", "axis of what may be bores"},
    {"scan.grooves",
     "{count} round walls are seen over {arc} of a turn or less, with no seat above them: they may be "
     "grooves, "
     "and were not taken"},
    {"scan.from-more-sides", "if one of them is a guide, scan it from more sides"},
    {"scan.strays", "{count} round walls are seen over less than {least} or {arc} of a turn"},
    {"scan.deeper", "if one of them is a guide, scan it deeper, or touch it (survey)"},
    {"scan.bolt-holes", "bolt holes"},
    {"scan.no-holes", "no holes of one size, square to the deck, are seen"},
    {"scan.scan-walls", "scan their walls, or type head.bolt_holes", "scan their walls, or type bolt holes"},
    {"scan.every-guide", "every guide"},
    {"scan.no-guide", "not seen: no bore that leans or lies under a seat"},
    {"scan.with-pins", "scan with pins standing in the guides, or take readings (survey)"},
    {"scan.which-end", "which end is which"},
    {"scan.front-not-said", "a surface does not say which end is the front"},
    {"scan.add-end-for-end",
     "look whether cylinder 1 is at the end taken; if not, say that it is at the other"},
    {"scan.turned-already",
     "look whether cylinder 1 is at the end taken; if not, take back that it is at the other"},
});

template <Word Id, Word... Names>
Sentence sentence(Given<Names>... given) {
    return words::made<english_table, Id>(std::move(given)...);
}

}  // namespace seatwright::scan
