// English, what drawing says.
#pragma once

#include <array>

#include "seatwright/words/sentence.hpp"

namespace seatwright::drawing {

inline constexpr auto english_table = std::to_array<words::Line>({
    {"drawing.more-in-every-cylinder", "there are more of them in every cylinder"},
    {"drawing.seats-larger", "the seats are larger"},
    {"drawing.in-a-row", "{which} in a row at y {y}, each within {residual}"},
    {"drawing.guides-stand", "guides {letters} stand"},
    {"drawing.holes-stand", "{count} holes stand"},

    // told.cpp, what a group of circles was taken for, and why
    {"drawing.so-named", "so named"},
    {"drawing.about-one-centre", "circles about one centre, the largest several times the smallest"},
    {"drawing.about-one-centre-more",
     "circles about one centre, the largest several times the smallest; intakes: there are more of them in "
     "every cylinder"},
    {"drawing.about-one-centre-larger",
     "circles about one centre, the largest several times the smallest; intakes: their seats are the larger "
     "ones"},
    {"drawing.in-rows-on-both-sides",
     "one size, in rows along the head on both sides of the valves and beyond the end cylinders"},
    {"drawing.within-the-bores", "within the bores, as many in every cylinder"},
    {"drawing.layer-speaks-of", "its layer's name speaks of {hint}"},
    {"drawing.and-layer-speaks-of", "{why}; its layer's name speaks of {hint}"},
    {"drawing.others-within", "others stand within it"},
    {"drawing.group-is", "group {group} is {kind}"},
    {"drawing.their-group-is", "their group is {kind}"},

    // told.cpp
    {"drawing.one-size",
     "All seats are drawn of one size: which valves are intakes is not known. The job calls them by turns; "
     "say what the groups are, or type it."},
    {"drawing.layers-against",
     "Layers call valves intake or exhaust the other way round than their sizes do (larger seats are "
     "intakes, common practice): sizes were followed; if the layers are right, say what the groups are."},
    {"drawing.other-unit",
     "The drawing says that it is in {unit}; the other unit, which you said, was followed."},
    {"drawing.seats-in-doubt",
     "No circles stand about one centre as a seat does on its guide (three times as wide or more): those "
     "that come nearest were taken. If they are something else, say what the groups are."},
    {"drawing.no-bolt-holes", "No bolt holes were made out: the job has none."},
    {"drawing.leans-disagree",
     "The ellipses about one centre at valve {valve} show leans that differ by more than 0.5 deg; the "
     "largest was followed.",
     "The ellipses about one centre at valve {valve} show leans that differ by more than 0.5°; the largest "
     "was followed."},
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

    // told.cpp, what is missing: what, why, what to do next
    {"drawing.kind-of", "kind of {valves}"},
    {"drawing.seats-of-one-size", "their seats are all of one size"},
    {"drawing.say-intake",
     "say which group or row is the intake: type head.valve.kind, or say what the groups are",
     "say which group or row is the intake: type head valve kind, or say what the groups are"},
    {"drawing.kind-of-every", "kind of every valve"},
    {"drawing.taken-for-intakes", "intakes are taken to be those of which {which} (common practice)"},
    {"drawing.look-at-ports",
     "look at the ports; if it is the other way round say that {intakes} and {exhausts}"},
    {"drawing.z-of", "z of {valves}"},
    {"drawing.no-height-shown", "a view of the deck shows no height"},
    {"drawing.type-z",
     "type z from a section of the drawing, or read one valve of each kind below deck (survey)"},
    {"drawing.which-end", "which end is which"},
    {"drawing.front-not-said",
     "a drawing does not say which end is the front, nor from which side it is seen"},
    {"drawing.beside-the-head",
     "put the drawing beside the head: cylinder 1 is at its {end} end; if not, say that it is at the other; "
     "if it is drawn as seen from the cams' side, say that"},
    {"drawing.beside-the-head-turned",
     "put the drawing beside the head: cylinder 1 is at its {end} end, the sheet turned so that the row lies "
     "level; if not, say that it is at the other; if it is drawn as seen from the cams' side, say that"},
    {"drawing.bolt-holes", "bolt holes"},
    {"drawing.no-rows-of-holes", "no holes of one size stand in rows on both sides of the valves"},
    {"drawing.name-bolt-or-type", "say which group they are, or type head.bolt_holes",
     "say which group they are, or type bolt holes"},
    {"drawing.rival-holes", "holes of {rivals} could be the bolts' as well as those of {bolts}"},
    {"drawing.name-bolt", "say which group takes the head bolts"},
    {"drawing.bores-of", "guide bores of {valves}"},
    {"drawing.no-guide-circle", "no circle of a guide is drawn"},
    {"drawing.type-bores", "type guide.intake.bore and guide.exhaust.bore",
     "type bore (intake) and bore (exhaust)"},
    {"drawing.which-way", "which way {valves} lean"},
    {"drawing.lean-shown", "ellipses show a lean of {most}, not to which side"},
    {"drawing.leans-shown", "ellipses show a lean of {least} to {most}, not to which side"},
    {"drawing.look-at-stems",
     "look whether the stems lean apart or together, and give incline and cant their signs: positive leans "
     "towards +Y and +X out of the deck"},
    {"drawing.angles-of", "incline and cant of {valves}"},
    {"drawing.drawn-round", "they are drawn round, upright or not"},
    {"drawing.type-angles",
     "type the angles of the drawing's section, or read them with the sensor on a pilot (survey)"},
});

template <Word Id, Word... Names>
Sentence sentence(Given<Names>... given) {
    return words::made<english_table, Id>(std::move(given)...);
}

}  // namespace seatwright::drawing
