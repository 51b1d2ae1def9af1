// English, what find says.
#pragma once

#include <array>

#include "seatwright/words/sentence.hpp"

namespace seatwright::find {

inline constexpr auto english_table = std::to_array<words::Line>({
    {"find.as-declared", "as declared"},
    {"find.end-for-end", "end for end"},
    {"find.mirrored", "mirrored"},
    {"find.mirrored-end-for-end", "mirrored end for end"},
    {"find.bell-top", "bell-mouthed at the top"},
    {"find.bell-bottom", "bell-mouthed at the bottom"},
    {"find.hourglass", "worn to an hourglass (both ends wide)"},
    {"find.barrel", "wide in the middle"},
    {"find.tapered", "tapered"},
    {"find.straight", "straight"},
    {"find.bore-shape", "bore {shape}"},
    {"find.chance-over", "over {least}"},
    {"find.those-of-another-setup", "those of another setup"},

    // setup.cpp
    {"find.keep-alone", "it places that guide and says nothing of the others"},
    {"find.keep-all-alike", "the other touches do not say how the setup lies, so all are used alike"},
    {"find.no-number-reaches",
     "No number of touches reaches it: a smaller pilot tip, a wider mouth or a finer machine would."},
    {"find.touch-next", "Touch {guide} next; {more} more would do."},
    {"find.readout-zeroed",
     "assumes that in setup {setup} the readout is zeroed over guide {guide}, nothing being touched."},
    {"find.no-fit", "head {head}, setup {setup}: {error} ({steps} steps)"},

    // setup.cpp
    {"find.wrong-way-round",
     "head {head}, setup {setup}: the touches do not fit the pattern as declared (p = {declared_p}) but fit "
     "it {way} (p = {p}). Check how the head lies, or the job's pattern and mirror, before anything is cut."},
    {"find.suspect-touch",
     "head {head}: the touch at {x}, {y} does not agree with the others (d2 = {d2}, limit {limit}). It is "
     "set aside and kept on record: touch this guide again; if the guide really stands there, keep = true "
     "beside the reading uses it for this guide alone.",
     "head {head}: the touch at {x}, {y} does not agree with the others (d2 = {d2}, limit {limit}). It is "
     "set aside and kept on record: touch this guide again; if the guide really stands there, “use it all "
     "the same” beside the reading uses it for this guide alone."},
    {"find.touches-disagree",
     "head {head}, setup {setup}: two touches disagree and nothing says which is wrong. Touch a third "
     "guide."},
    {"find.kept-by-word",
     "takes the touch of {valve} on head {head} at the machinist's word (keep = true): {then}.",
     "takes the touch of {valve} on head {head} at the machinist's word: {then}."},
    {"find.enter-target",
     "head {head}, setup {setup}: the least enter probability is {least}, below {target}. {advice}"},

    // learner.cpp
    {"find.foreign-head",
     "head {head} does not agree in setup {setup} with the heads on record: another casting, or rebuilt "
     "guides? It is fitted to the declared pattern and left out of what is learned."},

    // label.cpp
    {"find.not-labelled", "head {head}: {touches} unlabelled touches are left out: {why}."},
    {"find.labels-unsure",
     "head {head}: the unlabelled touches fit guides {guides} of setup {setup}, but {others} fit nearly as "
     "well ({odds} to 1). Label one of them."},
    {"find.unnamed-fit-none", "touches that name no guide ({touches}) fit none: {why}"},
    {"find.unnamed-fit-none-frees", "the guide of each of them, or these touches left out by name"},
    {"find.unnamed-fit-two",
     "its touches that name no guide fit {guides}, but {others} nearly as well ({odds} to 1)"},
    {"find.unnamed-fit-two-frees", "the guide of one of them"},

    // held.cpp
    {"find.fit-not-settled", "the fit of its touches did not settle"},
    {"find.fit-not-settled-frees", "touch two guides far apart again, and check the unit they are typed in"},
    {"find.fits-other-way", "its touches fit the head {way}, not as declared"},
    {"find.fits-other-way-frees",
     "turn the head, or put the job's pattern and mirror right, and touch it again"},
    {"find.fits-not", "its touches do not fit the pattern as declared (p = {p})"},
    {"find.fits-not-frees",
     "check the drawing's places, the unit and which valve each touch is of; touch again"},
    {"find.of-setup", "setup {setup}: {reason}"},
    {"find.strays",
     "its touch stands further from the others than any casting puts a guide, whoever says so"},
    {"find.strays-frees", "touch {valve} again, or put its place in the drawing right"},
    {"find.touches-of", "the touches of {valves} do not agree with the others or with each other"},
    {"find.touches-of-frees",
     "touch these guides again, and one more; or leave them out by name; or keep = true beside a touch that "
     "is right",
     "touch these guides again, and one more; or leave them out by name; or say “use it all the same” "
     "beside a touch that is right"},
    {"find.set-aside", "its touch does not agree with the others and is set aside"},
    {"find.set-aside-frees",
     "touch {valve} again, or keep = true beside its touch if the guide really stands there",
     "touch {valve} again, or say “use it all the same” beside its touch if the guide really stands there"},
    {"find.touched-twice",
     "its touches do not agree: the one at {x}, {y} is set aside, the one at {kept_x}, {kept_y} is kept"},
    {"find.touched-twice-frees",
     "remove the wrong one; or touch {valve} again, where two agree and one does not the two count; or keep "
     "= "
     "true beside the one that is right",
     "remove the wrong one; or touch {valve} again, where two agree and one does not the two count; or say "
     "“use it all the same” beside the one that is right"},
    {"find.chance", "its pilot enters with a chance of {chance}, {least} is asked"},
    {"find.place-a-guess", "its place is a guess: nothing says how the setup is turned"},
    {"find.touch-then", "touch {valve}: its chance is then {chance}"},
    {"find.no-touch-enough",
     "no touch is enough ({chance} then): a smaller pilot tip, a wider mouth or a finer readout would be"},

    // locate.cpp
    {"find.guide-repair",
     "head {head}: {reason}. Repair the guide before its seat is cut: the seat follows the guide."},
    {"find.no-pilot", "head {head}: {reason} ({top}, {middle}, {bottom})."},
    {"find.lies-as-declared",
     "assumes that the head lies as declared: the guides of setup{setups:|s} {setups} look the same {ways}, "
     "so touches cannot tell."},
    {"find.blind-run-next",
     "assumes for the blind run that the next head lies where the last one did, within what the posts allow, "
     "its yaw turning about the midpoint of the posts."},

    // pilots.cpp
    {"find.not-read-no-bore", "guide not read and no drawing bore given"},
    {"find.not-read-no-pilot", "guide not read; no pilot on the shelf is as small as the drawing bore"},
    {"find.not-read-assumed", "guide not read: assumed at its drawing bore"},
    {"find.bore-beyond", "bore {bore} is beyond its limit {limit}"},
    {"find.bell-mouth", "{shape}, {over} over the middle, limit {limit}"},
    {"find.gauge-line", "gauge line {below} below the guide top, held {held} down"},
    {"find.locks-no-length", "locks; guide length not given"},
    {"find.clearance", "clearance {clearance}"},
    {"find.no-pilot-fits", "no pilot on the shelf fits the readings"},

    // way_round.cpp
    {"find.way-round",
     "Touches cannot tell whether the head lies the right way round: end for end the guides of setup {setup} "
     "look the same, with intake seats where exhaust seats are taken to be. Is {kind} valve {valve} at the "
     "end where X is least? Look at the head."},
});

template <Word Id, Word... Names>
Sentence sentence(Given<Names>... given) {
    return words::made<english_table, Id>(std::move(given)...);
}

}  // namespace seatwright::find
