// English, what survey says.
#pragma once

#include <array>

#include "seatwright/words/sentence.hpp"

namespace seatwright::survey {

inline constexpr auto english_table = std::to_array<words::Line>({
    {"survey.no-common-holes",
     "{other} cannot be laid over this head: fewer than two bolt holes come together (here {here}, there "
     "{there}). Another head, or bolt holes are missing."},
    {"survey.second-other-way", "every second cylinder stands the other way round"},
    {"survey.all-same-way", "all cylinders stand the same way round"},

    // survey.cpp
    {"survey.scatter",
     "the readings scatter {times} times as much as their sds say; every uncertainty was made that much "
     "larger"},
    {"survey.set-aside", "line {line}, {key}: {what} is not used: {why}", "{what} is not used: {why}"},
    {"survey.head-height",
     "line {line}, {key}: the valve head of {valve} says nothing of its seat: head_height (the middle of its "
     "head over its gauge plane) is missing",
     "the valve head of {valve} says nothing of its seat: the height of the middle of its head over its "
     "gauge plane is missing"},
    {"survey.seat-angle",
     "line {line}, {key}: the ball on the seat of {seat} says nothing: angle (of the seat's face) is "
     "missing",
     "the ball on the seat of {seat} says nothing: the angle of the seat's face is missing"},
    {"survey.open", "the readings leave figures of {figures} open; what is listed as missing closes them"},
    {"survey.readouts-read-to",
     "assumes that readouts are read to {sd} where no sd is given (common practice)"},
    {"survey.sensor-reads-to", "assumes that the sensor reads to {sd} (common practice)"},
    {"survey.zero-on-deck",
     "assumes that the sensor reads 0 on the deck, as sensor.zero says: no reading shows it",
     "assumes that the sensor reads 0 on the deck: no reading shows it"},
    {"survey.stood-plumb",
     "assumes that {guides} stood plumb to {within} when the pilot was over it: no level reading of it is "
     "used (common practice)"},
    {"survey.not-moved",
     "assumes that the head was not moved on its fixture between setups and that the fixture turns without "
     "play"},
    {"survey.turned-end-for-end",
     "assumes that the head lies turned end for end on the table, since the cylinders are numbered against "
     "the readout's X; if the readout counts the other way write x_sign = -1 under [readout]",
     "assumes that the head lies turned end for end on the table, since the cylinders are numbered against "
     "the readout's X, unless the readout counts to the left"},
    {"survey.guides-are-x",
     "assumes that the line of like guides is the head's X: no two holes stand in a row along it"},
    {"survey.readout-is-x",
     "assumes that the head's X lies along the readout's: no row of holes or like guides shows it"},
    {"survey.origin-is-mean",
     "assumes that the origin is the mean of those guides of cylinder {cylinder} that are placed"},
    {"survey.nothing-milled",
     "assumes nothing of what was milled off the deck or how deep the seats have sunk: z is as found on "
     "{head}"},

    // repeats.cpp
    {"survey.cylinders-repeat", "cylinders repeat every {spacing}, each within {residual}"},
    {"survey.guides-in-row", "guides {letters} stand in a row at y {y}, each within {residual}"},
    {"survey.valves-alike",
     "valves {letters} are alike: z {z} within {z_within}, incline {incline} within {incline_within}, cant "
     "{cant} within {cant_within}"},
    {"survey.holes-in-row", "{count} holes stand in a row at y {y}, each within {residual}"},
    {"survey.holes-every", "{count} holes stand every {step}, each within {residual}"},

    // rows.cpp
    {"survey.the-deck", "the deck"},
    {"survey.the-valve-head", "the valve head of {valve}"},
    {"survey.hole", "hole {hole}"},
    {"survey.guide", "guide {guide}"},
    {"survey.seat", "seat {seat}"},
    {"survey.place-on-deck", "the place on the deck at X {x}, Y {y} in setup {setup}"},
    {"survey.figure-of", "{figure} of {thing} in setup {setup}"},
    {"survey.lean-of", "the {figure} of {thing} in setup {setup}"},
    {"survey.lean-turned-round", "the {figure} of {thing} in setup {setup}, sensor turned round"},
    {"survey.of-setup", "the {figure} of setup {setup}"},
    {"survey.most-otherwise", "most lines of the setup have it otherwise ({agree} of {lines} have this)"},

    // outliers.cpp
    {"survey.far-off", "it is {off} from what the other readings say"},
    {"survey.far-off-or-others",
     "it is {off} from what the other readings say, or one of {others} read with it is wrong"},
    {"survey.either-wrong", "either it or {other} is wrong, and the readings do not tell which"},

    // askew.cpp
    {"survey.askew-to-holes", "the guides of setup {setup} stand {off} askew to the row of holes"},
    {"survey.askew-by-level",
     "guides levelled in setup {setup} stand out of plumb where they were read, as if it lay {askew} askew"},
    {"survey.askew-of-others", "by it setup {setup} lies {askew} askew of the others"},

    // contradictions.cpp
    {"survey.row-sign",
     "the sign of the {figures} read in the row does not go with the tilt of setup {setup}, at which it "
     "stands "
     "plumb: which way the row leans is asked with a picture"},
    {"survey.out-of-plumb", "by its level readings guide {guide} stands {off} out of plumb in setup {setup}"},
    {"survey.swapped",
     "{far}: {guide} and {other} look swapped; type them the other way round or read them again"},
    {"survey.sign-missed", "{far}: a sign of its {figures} looks missed"},
    {"survey.another-guide", "{far}: another guide was read there, or its level readings are wrong"},
    {"survey.off-pattern",
     "guide {guide} stands {off} from where the other cylinders put it; read it again, or write sure = true",
     "guide {guide} stands {off} from where the other cylinders put it; read it again, or say it is right"},
    {"survey.off-pattern-or-another",
     "guide {guide} or another one does not stand where the other cylinders put it, and the readings do not "
     "tell which; read it again, or write sure = true",
     "guide {guide} or another one does not stand where the other cylinders put it, and the readings do not "
     "tell which; read it again, or say it is right"},
    {"survey.off-pattern-swapped",
     "guide {guide} stands {off} from where the other cylinders put it, and {others} in its place: they look "
     "swapped; read it again, or write sure = true",
     "guide {guide} stands {off} from where the other cylinders put it, and {others} in its place: they look "
     "swapped; read it again, or say it is right"},
    {"survey.yaw", "{askew}; read the Y of its holes again, or write sure = true",
     "{askew}; read the Y of its holes again, or say it is right"},
    {"survey.unlike-height",
     "the seat of {seat} lies {off} from the height of its like; read it again, or write sure = true",
     "the seat of {seat} lies {off} from the height of its like; read it again, or say it is right"},
    {"survey.unlike-lean",
     "guide {guide} leans {off} unlike its like of the other cylinders; read it again, or write sure = true",
     "guide {guide} leans {off} unlike its like of the other cylinders; read it again, or say it is right"},
    {"survey.contradicts",
     "contradicts other readings: {why}; more than one reading in ten does: read {what} again, or take the "
     "line out",
     "contradicts other readings: {why}; more than one reading in ten does: read {what} again, or take the "
     "reading back"},

    // missing.cpp
    {"survey.figures-of", "{figures} of {guides}"},
    {"survey.leave-open", "what was read so far does not yet say {open}"},
    {"survey.surer",
     "the worst relative uncertainty of the valves falls from {before} to {after} of what is aimed at, on "
     "average"},

    // candidates.cpp
    {"survey.hole-in-setup", "hole {hole} in setup {setup}"},
    {"survey.read-hole",
     "[[point]] setup = \"{setup}\", what = \"hole\", id = \"{hole}\": the ball on its rim, X, Y and Z",
     "setup {setup}, hole {hole}: the ball on its rim, X, Y and Z"},
    {"survey.holes-in-setup", "holes {hole} and {other} in setup {setup}"},
    {"survey.read-two-holes",
     "[[point]] setup = \"{setup}\", what = \"hole\", id = \"{hole}\" and \"{other}\": the ball on their "
     "rims, X, Y and Z",
     "setup {setup}, holes {hole} and {other}: the ball on their rims, X, Y and Z"},
    {"survey.two-holes", "two holes far apart in setup {setup}"},
    {"survey.read-holes-far-apart",
     "[[point]] setup = \"{setup}\", what = \"hole\": the ball on the rims of two holes far apart, X, Y and "
     "Z, the same two in every setup",
     "setup {setup}: the ball on the rims of two holes far apart, X, Y and Z, the same two in every setup"},
    {"survey.deck-height", "the deck's height in setup {setup}"},
    {"survey.read-deck",
     "[[point]] setup = \"{setup}\", what = \"deck\": its Z at one place, with X and Y; better at three",
     "setup {setup}, deck: its Z at one place, with X and Y; better at three"},
    {"survey.deck-at-three", "the deck at three places in setup {setup}"},
    {"survey.read-deck-at-three",
     "[[point]] setup = \"{setup}\", what = \"deck\": its Z at three places with X and Y, two far apart "
     "along the head and one across",
     "setup {setup}, deck: its Z at three places with X and Y, two far apart along the head and one across"},
    {"survey.holes-and-deck", "holes and the deck at three places in setup {setup}"},
    {"survey.read-holes-and-deck",
     "{holes}; and what = \"deck\": its Z at three places with X and Y, two far apart along the head and one "
     "across",
     "{holes}; and the deck: its Z at three places with X and Y, two far apart along the head and one "
     "across"},
    {"survey.sensor-on-deck", "the sensor on the deck, {across}"},
    {"survey.read-level-on-deck",
     "[[level]] setup = \"{setup}\", what = \"deck\", across = \"{across}\": read, turn the sensor half a "
     "turn, read again",
     "setup {setup}, the sensor on the deck, {across}: read, turn it half a turn, read again"},
    {"survey.sensor-both-ways", "the sensor on the deck two ways"},
    {"survey.read-level-both-ways",
     "[[level]] setup = \"{setup}\", what = \"deck\", across = \"incline\" and \"cant\": read, turn the "
     "sensor half a turn, read again",
     "setup {setup}, the sensor on the deck for incline and for cant: read, turn it half a turn, read again"},
    {"survey.sensor-turned", "the sensor turned round"},
    {"survey.read-level-turned",
     "[[level]] second: turn the sensor half a turn where it was read first, and read again",
     "turn the sensor half a turn where it was read first, and read again"},
    {"survey.seat-heights", "seat heights of {guides}"},
    {"survey.read-valve-head",
     "[[point]] setup = \"{setup}\", what = \"valve head\": the setting valve in, the stylus on the middle "
     "of its head, Z with head_height",
     "setup {setup}, valve head: the setting valve in, the stylus on the middle of its head, Z and the "
     "height of its head over its gauge plane"},
    {"survey.which-way", "which way the guides of {guides} lean"},
    {"survey.look-along-head",
     "look at the head, deck up: guides whose upper ends lean towards +Y (the back) have a positive incline, "
     "towards +X a positive cant; write the signs of first and second so, or of tilt and swing",
     "look at the head, deck up: guides whose upper ends lean towards +Y (the back) have a positive incline, "
     "towards +X a positive cant; type the signs of the two readings so, or of tilt and swing"},
    {"survey.own-setup", "a setup of its own in which the pilot stands plumb"},
    {"survey.own-setup-tilted", "a setup of its own: tilt to {tilt}"},
    {"survey.own-setup-swung", "a setup of its own: tilt to {tilt}, swing {swing}"},
    {"survey.places", "places of {guides}"},
    {"survey.read-own-setup",
     "{where}, two holes by the ball, the pilot over each guide (X, Y), Z of a valve's head in it"},
    {"survey.read-own-setup-and-lean",
     "{where}, two holes by the ball, the pilot over each guide (X, Y), Z of a valve's head in it, and the "
     "sensor on the pilot two ways"},
    {"survey.read-guide", "[[point]] setup = \"{setup}\", what = \"guide\": the pilot over it, X and Y",
     "setup {setup}, guide: the pilot over it, X and Y"},
    {"survey.read-guide-and-head",
     "[[point]] setup = \"{setup}\", what = \"guide\": the pilot over it, X and Y; and what = \"valve "
     "head\": Z with head_height",
     "setup {setup}, guide: the pilot over it, X and Y; and valve head: Z and the height of its head over "
     "its gauge plane"},
    {"survey.leans", "leans of {guides}"},
    {"survey.read-lean",
     "[[level]] setup = \"{setup}\", what = \"guide\": the sensor on a pilot in it, across = \"incline\" and "
     "\"cant\", turned round",
     "setup {setup}, guide: the sensor on a pilot in it, for incline and for cant, turned round"},

    // ask_words.cpp
    {"survey.ask-setup", "Tilt until the pilot in {guide} stands plumb; type what the sensor shows."},
    {"survey.ask-setup-near",
     "Tilt until the pilot in {guide} stands plumb, near {tilt}; type what the sensor shows."},
    {"survey.ask-setup-swung",
     "Tilt until the pilot in {guide} stands plumb, near {tilt} and swing {swing}; type what the sensor "
     "shows."},
    {"survey.ask-deck-level-across",
     "Deck nearly level: the sensor on it across the head; type it, turn it half a turn, type it again."},
    {"survey.ask-deck-level-along",
     "Deck nearly level: the sensor on it along the head; type it, turn it half a turn, type it again."},
    {"survey.ask-guide-level-across",
     "Pilot into {guide}, the sensor on it across the head; type it, turn it half a turn, type it again."},
    {"survey.ask-guide-level-along",
     "Pilot into {guide}, the sensor on it along the head; type it, turn it half a turn, type it again."},
    {"survey.ask-deck-first", "The stylus on the deck near the first cylinder; type X, Y and Z."},
    {"survey.ask-deck-last", "The stylus on the deck near the last cylinder; type X, Y and Z."},
    {"survey.ask-deck-other-edge", "The stylus on the deck at its other edge; type X, Y and Z."},
    {"survey.ask-deck-anywhere", "Setup {setup}: the stylus anywhere on the deck; type X, Y and Z."},
    {"survey.ask-hole", "The ball on the rim of {hole}; type X, Y and Z."},
    {"survey.ask-hole-in", "Setup {setup}: the ball on the rim of {hole}; type X, Y and Z."},
    {"survey.hole-near-first", "bolt hole {hole}, near the first cylinder"},
    {"survey.hole-far", "bolt hole {hole}, the far one of the same row"},
    {"survey.ask-guide", "Bring the pilot over {guide}; type X and Y."},
    {"survey.ask-guide-in", "Setup {setup}: bring the pilot over {guide}; type X and Y."},
    {"survey.ask-valve-head", "Setting valve into {guide}, the stylus on the middle of its head; type Z."},
    {"survey.ask-valve-head-in",
     "Setup {setup}: setting valve into {guide}, the stylus on the middle of its head; type Z."},
    {"survey.ask-way",
     "Which way do the guides {letters} lean? Look along the head from the right end of the table, deck up."},
    {"survey.ask-way-along",
     "Which way does guide {guide} lean along the head? Look at it from the front of the table, deck up."},
    {"survey.ask-end",
     "Where does the first cylinder lie? The readout's X grows from the last cylinder to the first."},
    {"survey.ask-bore", "Type the bore of guide {guide}."},
    {"survey.ask-stem", "Type the stem diameter of the valve of {guide}."},
    {"survey.ask-throat", "Type the throat diameter under the seat of {guide}."},
    {"survey.ask-head-diameter", "Type the head diameter of the valve of {guide}."},
    {"survey.ask-face-width", "Type the width of the old face of {guide}."},
    {"survey.ask-guide-length", "Type the length of guide {guide}."},
    {"survey.ask-to-seat", "Type how far the seat of {guide} lies over the top of its guide."},
    {"survey.ask-below", "Type the free room under guide {guide}."},

    // walk.cpp
    {"survey.brings-zero", "This gives the sensor's own zero, and how the deck lies."},
    {"survey.brings-deck", "The deck is z = 0 of every figure."},
    {"survey.brings-tie", "The two holes tie every tilt to this one."},
    {"survey.brings-lean", "How the guide leans says where to tilt to."},
    {"survey.brings-guides", "This places the guides that stand plumb in it."},
    {"survey.brings-way",
     "The tilt in which its pilot stood plumb and its level readings have opposite signs: a look decides."},
    {"survey.brings-end", "Front and back, and the signs of all inclines, hang on it."},
    {"survey.brings-form", "The job needs it for the form of the valve and its guide."},
});

template <Word Id, Word... Names>
Sentence sentence(Given<Names>... given) {
    return words::made<english_table, Id>(std::move(given)...);
}

}  // namespace seatwright::survey
