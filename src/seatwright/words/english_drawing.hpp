// English, what drawing says.
#pragma once

#include <array>

#include "seatwright/words/sentence.hpp"

namespace seatwright::drawing {

inline constexpr auto english_table = std::to_array<words::Line>({
    {"drawing.more-in-every-cylinder", "there are more of them in every cylinder"},
    {"drawing.seats-larger", "the seats are larger"},
    {"drawing.in-a-row", "{which} in a row at y {y} to {residual}"},
    {"drawing.guides-stand", "guides {letters} stand"},
    {"drawing.holes-stand", "{count} holes stand"},

    // told.cpp
    {"drawing.one-size",
     "All seats are drawn of one size: which valves are intakes is not known. The job calls them by turns; "
     "say it with --name A=intake, or type it."},
    {"drawing.layers-against",
     "Layers call valves intake or exhaust the other way round than their sizes do (larger seats are "
     "intakes, common practice): sizes were followed; if the layers are right, name the groups (--name "
     "A=exhaust)."},
    {"drawing.other-unit", "The drawing says another unit ({unit}) than --units; --units was followed."},
    {"drawing.seats-in-doubt",
     "No circles stand about one centre as a seat does on its guide (three times as wide or more): those "
     "that come nearest were taken. Name the groups if they are something else (--name A=bolt)."},
    {"drawing.no-bolt-holes", "No bolt holes were made out: the job has none."},
    {"drawing.leans-disagree",
     "The ellipses about one centre at valve {valve} show leans that differ by more than 0.5 deg; the "
     "largest was followed."},
    {"drawing.elsewhere",
     "{count} blocks are not in the file (other files, or missing): what they show is not here."},
    {"drawing.from-above", "the drawing shows the head as seen from the cams' side, as said"},
    {"drawing.from-outside",
     "assumes that the drawing shows the deck as seen from outside the casting, +Z towards the eye"},
    {"drawing.first-at-left", "assumes that the first cylinder is at the left end of the row as drawn"},
    {"drawing.row-along-x", "assumes that the row lies along the drawing's X: one cylinder does not show it"},
    {"drawing.mean-for-centre",
     "takes the mean of the first cylinder's valves for its centre: no cylinder bore is drawn"},
    {"drawing.takes-for-intakes", "takes for intakes the valves of which {which} (common practice)"},
    {"drawing.u-is-decimals",
     "u is what the decimals of the drawing leave; how far castings stray from it is not in it"},
});

template <Word Id, Word... Names>
Sentence sentence(Given<Names>... given) {
    return words::made<english_table, Id>(std::move(given)...);
}

}  // namespace seatwright::drawing
