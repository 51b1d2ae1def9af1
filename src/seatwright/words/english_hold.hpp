// English, what hold says.
#pragma once

#include <array>

#include "seatwright/words/sentence.hpp"

namespace seatwright::hold {

inline constexpr auto english_table = std::to_array<words::Line>({
    // Setups.
    {"hold.plumb-limit",
     "valve {valve} cannot be held within {limit} of plumb: {error} is left at its best setup {setup} (tilt "
     "{tilt}, swing {swing}); another fixture, or a wedge under the head, is needed"},
    {"hold.travel",
     "setup {setup}: the guides span {more} more along {axis} than the machine travels; split the setup by "
     "moving the head along the table"},
    {"hold.setups-plumber",
     "no plan has fewer setups, but the search for the least plumb errors in them was stopped at its cap: "
     "every valve is within the limit, some could stand plumber"},
    {"hold.setups-fewer",
     "the search for fewer setups was stopped at its cap: at least {least} are needed, found {found}; this "
     "plan holds every valve, but one with fewer may exist"},
    {"hold.along-table",
     "assumes the head's X lies along the table's X and its deck takes the fixture's tilt and swing exactly"},
    {"hold.guides-as-drawn",
     "assumes guides as the drawing has them; what castings really do is found by touching (find)"},
    {"hold.travels-enough",
     "assumes the machine travels far enough, since machine.travel_x, travel_y and travel_z are not all "
     "given",
     "assumes the machine travels far enough, since travel X, Y and Z are not all given"},
    {"hold.posts-anywhere", "assumes each post sits anywhere in its bolt hole's clearance with equal chance"},
    {"hold.dry-friction", "assumes dry friction, one value for deck and clamps, and two clamped faces"},
    {"hold.map-once-corrected",
     "assumes the level readings show the head off its planned attitude: the map is that of the head once "
     "corrected"},

    // Can it slip or fall?
    {"hold.slip",
     "setup {setup}: the clamps hold the head against slipping only {times} times over at {slope} of slope; "
     "{then}"},
    {"hold.would-slip", "it would slip: clamp harder or hold it in a captive fixture before tilting"},
    {"hold.two-wanted", "a factor of 2 is wanted: clamp harder or add a stop below the head"},
    {"hold.slides",
     "setup {setup}: the head ({mass}) slides off a deck sloping {slope} when released; tilt it back level "
     "before release, and {then}"},
    {"hold.unknown-mass", "unknown mass"},
    {"hold.load-uphill", "load and unload it from the {side}, the uphill side, so that the posts stop it"},
    {"hold.load-level", "neither front nor back is uphill here: load it level"},
    {"hold.lift",
     "the head weighs {mass}: lift it with two people or a hoist (common limit for one person 23 kg; local "
     "rules decide)"},

    // Figures nobody gave, touches in the other unit.
    {"hold.made-up",
     "These figures are made up, not from you: {things}. Type those of the drawing, or measure them, and "
     "take them out of head.assumed; nothing is written for the machine before.",
     "These figures are made up, not from you: {things}. Type those of the drawing, or measure them, or say "
     "that they are right; nothing is written for the machine before."},
    {"hold.made-up-held", "figures made up, not given: {things}"},
    {"hold.made-up-frees", "those of the drawing or as measured, taken out of head.assumed",
     "those of the drawing or as measured, or said to be right"},
    {"hold.touch-unit",
     "The touch on {valve} of head {head} has {axis} = {read}, but the map has that guide at {map}; {bare} "
     "would fit as {unit}."},

    // Which fixture.
    {"hold.posts-apart", "posts {span} apart, it takes {low} to {high}"},
    {"hold.posts-too-thick", "its {posts} posts do not enter {holes} bolt holes"},
    {"hold.every-guide-plumb", "every guide within {worst} of plumb in {setups} {setups:setup|setups}"},
    {"hold.cannot-hold",
     "cannot hold {valves} within {limit} of plumb (least error {worst}; tilt {tilt_low} to {tilt_high}, "
     "swing {swing_low} to {swing_high})"},
    {"hold.mass-on-limit", "{mass} on a limit of {limit}"},
    {"hold.made-for", "made for {layouts} heads, this one is {layout}"},
    {"hold.verdict-best", "best: {reasons}", "{reasons}"},
    {"hold.verdict-fits", "fits: {reasons}; {best} does it in {setups} {setups:setup|setups} within {worst}",
     "{reasons}; {best} does it in {setups} {setups:setup|setups} within {worst}"},
    {"hold.verdict-against", "{reasons}"},
    {"hold.fixture", "fixture {fixture} does not take this head: {why}"},
    {"hold.fixture-frees", "another fixture, or the figure that stands against this one put right"},
    {"hold.better-fixture", "fixture {fixture} would serve this head better: {why}"},

    // What a level on the guides says.
    {"hold.incline", "incline"},
    {"hold.cant", "cant"},
    {"hold.tilt", "tilt"},
    {"hold.swing", "swing"},
    {"hold.back", "back"},
    {"hold.front", "front"},
    {"hold.left", "left"},
    {"hold.right", "right"},
    {"hold.contradict-zero",
     "the {across} readings contradict each other: by {low_guide} the sensor's zero is off by {low}, by "
     "{high_guide} by {high}; one sensor has one zero, so a sign is wrong or the sensor was not turned half "
     "a turn"},
    {"hold.contradict-guide",
     "the {across} readings of guide {guide} contradict each other: {low} and {high}"},
    {"hold.contradict-guides",
     "the {across} readings contradict each other: guide {low_guide} leans {low}, guide {high_guide} "
     "{high}"},
    {"hold.read-again", "{contradiction}; read those guides again: no correction is ordered from them"},
    {"hold.stands-plumb", "{scale}: guides stand plumb, nothing to turn"},
    {"hold.below-step",
     "{scale}: guides lean {lean} towards the {towards}, less than this fixture can be set to ({step}): "
     "nothing to turn"},
    {"hold.turn",
     "{scale}: guides lean {lean} towards the {towards}; turn the head so that their upper ends move {lean} "
     "towards the {back}{setting}{within}"},
    {"hold.setting", " ({scale} scale of setup {setup} from {from} to {to})"},
    {"hold.within-limit", "; it is within the plumb limit as it stands"},
    {"hold.no-swing", "this fixture has no swing: shim one end of the head, or accept the lean"},
    {"hold.level-none",
     "no level reading of head {head} is on record; those of other heads say nothing of it and are left "
     "aside"},
    {"hold.level-contradict",
     "head {head}: {contradiction}. They are not averaged and no correction is ordered from them: read those "
     "guides again, or write sure = true in each reading",
     "head {head}: {contradiction}. They are not averaged and no correction is ordered from them: read those "
     "guides again, or somebody says of each reading that it is right"},
    {"hold.level-outlier",
     "the level reading of guide {guide} is far from the others and is left out of the mean: read it again, "
     "and look for a worn or bent guide"},
    {"hold.level-off",
     "head {head}: by its level readings the guides of setup {setup} lean {lean}, "
     "more than the plumb limit of {limit}: {then}"},
    {"hold.lead-lets-pass", "a lead lets it pass"},
    {"hold.turn-and-read", "turn the fixture as said and read again before anything is cut there"},
    {"hold.level-bias-unknown",
     "no {across} reading was taken with the sensor turned round: its bias is unknown and taken as 0; turn "
     "it half a turn and read one guide again"},
    {"hold.level-heads",
     "level readings of several heads are on record: those of head {head} ({which}) are used"},
    {"hold.the-latest", "the latest"},
    {"hold.as-asked", "as asked"},
    {"hold.stand-unknown", "how the head stands is not known: {contradiction}"},
    {"hold.read-those-again", "level readings of those guides taken again"},
    {"hold.leans",
     "setup {setup}: by its level readings the guides lean {lean}, more than the plumb limit of {limit}"},
    {"hold.leans-frees", "{turned}, and the guides read again; or {allow}",
     "{turned}, and the guides read again, or a lead lets it pass"},
    {"hold.scale-set", "{scale} set to {to}"},
    {"hold.as-level-says", "the head turned as the level says"},
});

template <Word Id, Word... Names>
Sentence sentence(Given<Names>... given) {
    return words::made<english_table, Id>(std::move(given)...);
}

}  // namespace seatwright::hold
