// English, what shape says.
#pragma once

#include <array>

#include "seatwright/words/sentence.hpp"

namespace seatwright::shape {

inline constexpr auto english_table = std::to_array<words::Line>({
    {"shape.bolt-hole", "bolt hole {number}"},
    {"shape.obstacle", "{name}"},
    {"shape.chamber-over", "the chamber over {valve}"},
    {"shape.its-recession", "recession"},
    {"shape.its-stem-height", "stem height"},
    {"shape.its-below-deck", "below_deck"},
    {"shape.no-other-deeper", "no other seat deeper"},
    {"shape.limits-kept", "{cost}, every limit kept"},
    {"shape.no-pilot-in", "no pilot in"},
    {"shape.pilot-in", "pilot in"},
    {"shape.zero-at", " at {place}"},
    {"shape.zero-face-unread",
     ". The old face was not read: the cutter will stop short by as much as the old seat is wider; trim "
     "after the first seat"},
    {"shape.its-ring", "its ring"},
    {"shape.its-form", "its form"},
    {"shape.lower", "lower"},
    {"shape.higher", "higher"},
    {"shape.above", "above"},
    {"shape.below", "below"},
    {"shape.wider", "wider"},
    {"shape.narrower", "narrower"},
    {"shape.spread-of", "the stem spread of {seats}"},
    {"shape.while-keeping", " while keeping {limits}"},
    {"shape.none-keeps", "keep every limit"},
    {"shape.none-found", "were found that keep every limit"},
    {"shape.aluminium", "aluminium"},
    {"shape.iron", "iron"},
    {"shape.below-finish-frees", "{way}, or {allow}", "{way}, or a lead lets it pass"},

    // settle.cpp
    {"shape.not-measured", "{valve} is not measured: its plan lacks {lacking}"},
    {"shape.height-needs", "{valve}: its finished height needs {missing}"},
    {"shape.height-leaves-old",
     "{valve}: {depth} deep to its finished height, {cleanup} would clean it up: old surface may be left, "
     "look before the valve goes in"},
    {"shape.past-limit", "{valve}: its finished height is {by} past its limit ({limit})"},
    {"shape.past-limit-frees", "another finished height, or a new insert"},
    {"shape.short-of-window",
     "{valve}: its finished height is {by} short of its window ({window}): the valve would stand proud of "
     "it"},
    {"shape.short-of-window-frees", "a finished height within the window"},
    {"shape.below-finished", "{below} below its finished height"},
    {"shape.at-finished", "at its finished height"},
    {"shape.below-finish-allowed", "{valve}: the old seat is already {high}; {by} lets it pass: {why}"},
    {"shape.an-insert", "an insert"},
    {"shape.own-depth",
     "its own depth, {depth} (recession {recession} after it), as [[depth.seat]], or an insert",
     "its own depth, {depth} (recession {recession} after it), as a depth of its seat, or an insert"},
    {"shape.below-finish", "{valve}: the old seat is already {high}: the cutter would not touch"},
    {"shape.beyond-cleanup", "{valve} cannot be cleaned up within its limits"},
    {"shape.beyond-cleanup-frees", "a new insert, or another limit"},
    {"shape.window-asks", "{valve}: its window ({window}) asks for {asks} where {cleanup} would clean it up"},
    {"shape.by-hand-beyond",
     "{valve}: the depth given by hand, {depth}, is beyond its limit of {limit} ({by})"},
    {"shape.by-hand-beyond-frees", "a lesser depth, or a new insert"},
    {"shape.by-hand-short",
     "{valve}: the depth given by hand, {depth}, does not reach its window ({window}), which asks for "
     "{asks}"},
    {"shape.by-hand-short-frees", "a greater depth"},
    {"shape.by-hand-leaves-old",
     "{valve}: {depth} deep by hand, {cleanup} would clean it up: old surface may be left, look before the "
     "valve goes in"},
    {"shape.held", "{reason}; what frees it: {frees}"},

    // asked.cpp
    {"shape.asked-cleanup", "{valve}: the depth asked for, {depth}, does not clean up; {needed} does"},
    {"shape.asked-limit", "{valve}: the depth asked for, {depth}, is beyond its limit of {limit} ({by})"},
    {"shape.asked-stems", "{kind} stem heights would differ by {differ}; {allowed} is allowed"},
    {"shape.asked-chambers", "chambers would differ by {differ}; {allowed} is allowed"},

    // fit.cpp
    {"shape.no-press-fit",
     "{what}: no press fit worked out, since the shelf has no modulus, poisson and expansion for "
     "\"{material}\""},
    {"shape.loose-hot",
     "{insert}: at {degrees} degC the ring has no interference left; it would be held by its staking alone"},
    {"shape.assembly",
     "{insert}: neither liquid nitrogen on the ring nor {degrees} degC on the head alone is enough for free "
     "assembly; use both, or press"},
    {"shape.cold-and-hot",
     "cooled rings and heated heads burn: face shield, insulated gloves, tongs, no loose cuffs; liquid "
     "nitrogen only in moving air, its gas suffocates without warning; mark hot castings; follow the engine "
     "maker's temperatures and local rules"},
    {"shape.the-insert", "{kind} insert"},
    {"shape.interference-assumed",
     "assumes an interference of {interference} for the {insert}, as is usual in {metal} (common practice)"},
    {"shape.the-guide", "{kind} guide"},
    {"shape.guides-of", "assumes the {guide}s are of {iron}"},
    {"shape.press-fits-assumed",
     "assumes for press fits a casting that answers as a ring of {ring} times the bore, friction {friction}, "
     "parts together at {degrees} degC when running, no clearance at the assembly temperatures (add some), "
     "and counterbores {deeper} deeper than the ring, as where it is staked"},

    // depth_plan.cpp
    {"shape.already-past",
     "{seat}: already {past} past its limit ({limit}) before any cut; {seat} is proposed for an insert"},
    {"shape.past-its-limit",
     "{seat}: {need} needs {low}, the {limit} limit allows {high}; {more} more would do; {seat} is proposed "
     "for an insert"},
    {"shape.stem-heights",
     "{kind} stem heights: {deep} must stand at {deep_at} or more after its {need} of {deep_low}, {shallow} "
     "at {shallow_at} or less ({limit} limit, depth {shallow_high}), and they may differ by {spread}; a "
     "spread of {would_do} would do; {insert} is proposed for an insert"},
    {"shape.no-answer", "{method} gave no answer after {iterations} iterations: {error}"},
    {"shape.cleanup-of", "the cleanup of {seat} ({cleanup})"},
    {"shape.limit-of", "the {limit} limit of {seat} ({high})"},
    {"shape.chambers-apart",
     "chambers of cylinders {cylinders} cannot come within {spread} of each other{keeping}: {would_do} would "
     "do, and the plan is made for that"},
    {"shape.depth-not-least",
     "the depths keep every limit, but a shallower plan in whole steps may exist: the search ended at its "
     "cap"},
    {"shape.no-whole-steps",
     "no depths in whole steps of {step} {why}; the depths given keep every limit but are not whole steps: "
     "use a finer step"},

    // deep_seat.cpp
    {"shape.deep-seat",
     "{seat} needs {low} and sinks others with it: {others} seats deeper by {deeper} in total, or one insert "
     "at {seat} (all depths {total} as planned, {total_with_insert} with the insert)"},

    // heights_agree.cpp
    {"shape.heights-differ",
     "{seat}: by its recession the old seat lies {apart} {way} than by its stem height, each against the "
     "mean of its kind: read both again"},

    // before.cpp
    {"shape.assumes-of", "assumes {what} ({seats})"},
    {"shape.chamber-readings",
     "cylinder {cylinder}: its chamber readings differ by {differ}; their mean is used, read it again"},
    {"shape.section-short",
     "{valve}: the measured section does not reach over the whole seat face; the cleanup counts only what "
     "was measured"},
    {"shape.section-beside", "{valve}: the measured section has no part of the seat face"},
    {"shape.section-off",
     "{valve}: the face of the measured section comes nowhere within {near} of the form at the old height: "
     "was z counted from the old height?"},
    {"shape.cleanup-doubt",
     "{valve}: the measured section asks for {measured} where the cleanup reading says {reading}; the "
     "reading is used"},
    {"shape.cleanup-or-section", "the cleanup of {valve} (or its section)"},
    {"shape.stem-of-drawing", "the drawing's stem height where none was read"},
    {"shape.no-recession-limit", "nothing of the recession limit where no recession was read"},
    {"shape.window-alone", "the window alone as the limit of depth where the old seat was not read"},
    {"shape.cleanup-usual", "{seats}: the cleanup is the shop's usual figure, not read"},

    // heights.cpp
    {"shape.recession-of", "the recession of {valve} (or below_deck)"},
    {"shape.recession-of-touched", "the recession of {valve} (or below_deck): Z0 is taken on its old seat"},
    {"shape.rest-z-of", "rest_z of {valve}: Z of the cutter resting on it, Z0 taken on {touched}",
     "Z of the cutter resting on it, Z0 taken on {touched}"},
    {"shape.recession-or",
     "the recession of {valve} (or rest_z, below_deck, stem_height with a setting valve)"},
    {"shape.own-valve",
     "{seats}: below_deck was read with the valve of the seat itself: good for that valve's height; for the "
     "cutter's Z its face stock is not counted"},
    {"shape.below-deck-steep",
     "{seats}: below_deck is not used for the seat's height, since the guide leans more than 5 deg to the "
     "deck: read it in the machine with the guide plumb, or as stem height with a setting valve",
     "{seats}: below_deck is not used for the seat's height, since the guide leans more than 5° to the "
     "deck: read it in the machine with the guide plumb, or as stem height with a setting valve"},

    // cutter.cpp
    {"shape.facets-count", "facets: {has} where the form has {wanted}"},
    {"shape.facet-angle", "{has} facet where the form has {wanted}"},
    {"shape.facet-short", "{facet} facet {short} short"},
    {"shape.face-left",
     "it would leave a face {width} wide and a contact diameter of {contact}: {off} {way} than asked, "
     "{allowed} is allowed"},
    {"shape.gauge-outside", "gauge diameter {gauge} outside its {low} to {high}"},
    {"shape.width-allowed",
     "{kind} seats: cutter {cutter} leaves a face {width} wide, {asked} asked, and a contact diameter of "
     "{contact}; let pass by {by}: {why}"},
    {"shape.no-cutters", "the shelf has no cutters: none could be chosen"},
    {"shape.no-cutter-makes",
     "{kind} seats: no cutter of the shelf makes this form within its tolerances; the nearest is {cutter}: "
     "{why}; the form to order is drawn"},

    // designer.cpp
    {"shape.throat-past-axis", "the {kind} throat facets reach past the guide axis: shorten them"},
    {"shape.no-form",
     "{valve}: nothing is shaped, since the job has no valve and seat form for {kind} valves"},
    {"shape.insert-wall", "{valve}: the top facets reach {past} past the insert's outside into the casting"},
    {"shape.cut-not-allowed-needed",
     "{valve}: no seat cutting is allowed on this head, and the seat needs {cleanup} to clean up: replace "
     "the head or ask its maker"},
    {"shape.cut-not-allowed", "{valve}: no seat cutting is allowed on this head; it is left as it is"},
    {"shape.tip-grind",
     "{valve}: the stem height asks for {off} off the valve tip, {allowed} is allowed: another valve, a "
     "thinner shim or a new insert"},
    {"shape.old-surface",
     "{valve}: at this depth old surface still shows on the face from radius {from} to {to}"},
    {"shape.guide-first", "{valve}: repair the guide before its seat is cut; the seat follows the guide"},
    {"shape.deck-first", "cut the deck by {by} before the seats' final depth"},
    {"shape.section-short-assumed",
     "assumes no metal removed where the worn section was not measured ({seats})"},
    {"shape.deck-cut-assumed",
     "assumes nothing of the deck cut's share in the chambers: the job has no chamber area"},
    {"shape.hole-through-assumed", "assumes a hole whose length is not given to run through the casting"},
    {"shape.compression-assumed",
     "assumes for compression the head's chamber alone: no gasket, no piston bowl, no deck height"},
    {"shape.insert-top-assumed", "assumes the insert's top level with the outer end of the form"},

    // clash.cpp
    {"shape.runs-into", "{valve}: {what} runs {by} into {other}"},
    {"shape.runs-into-frees",
     "a smaller ring or form, or the right place, axis and length of the other in the job"},
    {"shape.bridge", "{valve}: {bridge} of metal left to {other}, {wanted} wanted"},
    {"shape.body-strikes", "{valve}: the body of {cutter} above its blade would strike {other} by {by}"},
    {"shape.blade-strikes",
     "{valve}: the blade of {cutter} is longer than the form and would strike {other} by {by}"},
    {"shape.slimmer-body", "a cutter with a slimmer body"},
    {"shape.shorter-blade", "a blade no longer than the form"},

    // depth_batch.cpp
    {"shape.batch-too-large",
     "{heads} heads of {valves} valves are too many to plan together (at most {most} seats): head {head} is "
     "planned alone; keep fewer heads in the job"},
    {"shape.batch-no-spread",
     "the heads are planned together, but the job gives no stem_spread: their stem heights are held to "
     "nothing"},

    // cutter.cpp
    {"shape.blade-to-order-or-allow", "a blade of the form to order, or allow what = \"width {kind}\"",
     "a blade of the form to order, or a lead lets it pass"},
    {"shape.blade-to-order", "a blade of the form to order"},
    {"shape.no-cutter-within",
     "no cutter of the shelf leaves this seat within its tolerances; the nearest is {cutter}: {why}"},
    {"shape.no-cutter-for-seat", "the shelf has no cutter for this seat"},

    // zero_task.cpp
    {"shape.no-uncut-seat",
     "cutter {cutter} has no uncut old seat of its own form in setup {setup} to take Z0 on"},
    {"shape.no-uncut-seat-frees",
     "depth.from = \"finished\" with a seat measured good, or depth.from = \"deck\"",
     "from = \"finished\" with a seat measured good, or from = \"deck\""},
    {"shape.already-cut",
     "Z0 of cutter {cutter} was to be taken on the old seat of {seat}, which is already cut"},
    {"shape.already-cut-frees",
     "depth.from = \"finished\" with {seat} measured good, or another depth.zero_on",
     "from = \"finished\" with {seat} measured good, or another zero on"},
    {"shape.height-not-known",
     "Z0 of cutter {cutter} is taken on the old seat of {seat}, whose height is not known: seats cannot be "
     "cut to one height from it"},
    {"shape.height-not-known-frees", "a reading of recession or below_deck of {seat}"},
    {"shape.none-finished",
     "Z0 of cutter {cutter} was to be taken on a finished seat of its form, and none is finished and "
     "measured good on head {head}"},
    {"shape.none-finished-frees",
     "a depth, stem_height or below_deck reading of a finished seat of this form"},
    {"shape.deck-needs", "Z0 of cutter {cutter} on the deck needs {what}"},
    {"shape.deck-not-square",
     "the deck stands {slope} from square to the spindle in setup {setup}: a cutter's edge on a block takes "
     "Z0 only within 0.1 deg",
     "the deck stands {slope} from square to the spindle in setup {setup}: a cutter's edge on a block takes "
     "Z0 only within 0.1°"},
    {"shape.deck-not-square-frees",
     "machine.zero = \"offsets\" with a ball on the deck, or depth.from = \"touch\"",
     "zero = \"offsets\" with a ball on the deck, or from = \"touch\""},
    {"shape.block-height", "the height of the block"},
    {"shape.block-place", "the place on the deck where the block stands"},
    {"shape.lowest-edge", "how far the lowest edge of \"{cutter}\" stands below its gauge plane"},
    {"shape.near-hole",
     "depth.deck_at lies in or too near {hole}: it must be at least the ball's radius from every hole and "
     "edge",
     "deck at lies in or too near {hole}: it must be at least the ball's radius from every hole and edge"},
    {"shape.near-hole-frees", "another depth.deck_at", "another deck at"},
    {"shape.ball-place", "the place on the deck where the ball rests"},
    {"shape.ball-radius", "the radius of the stylus ball"},

    // zero_words.cpp
    {"shape.of-the-head", "{place}, which is X {x}, Y {y} of the head"},
    {"shape.zero-feeler", "; feeler {feeler} between blade and seat"},
    {"shape.zero-pilot", "with pilot {pilot} in place"},
    {"shape.on-the-readout", "X {x}, Y {y} on the readout"},
    {"shape.deck-skimmed", ", {by} cut off it already,"},
    {"shape.zero-on-deck",
     "Z0 taken on the deck{skimmed} of head {head} at {place}: ball of radius {ball} resting on the deck, "
     "brushed "
     "clean; the length of cutter {cutter} is the one from the ball's lowest point to its lowest edge"},
    {"shape.zero-on-block",
     "Z0 of cutter {cutter} taken on a block of {block} on the deck{skimmed} of head {head}{where}: pilot "
     "taken out, "
     "spindle stopped, the cutter's lowest edge on the block, deck and block brushed clean; then the block "
     "taken "
     "off"},
    {"shape.zero-on-finished",
     "Z0 of cutter {cutter} taken on {seat} of head {head}: cutter resting on the finished seat, {pilot}, "
     "spindle stopped, turn the blade by hand until it just drags; seat brushed clean{feeler}"},
    {"shape.zero-on-old",
     "Z0 of cutter {cutter} taken on {seat} of head {head}: cutter resting on the old seat, {pilot}, spindle "
     "stopped, turn the blade by hand until it just drags at its highest place; seat brushed "
     "clean{feeler}{unread}"},

    // plan_anew.cpp
    {"shape.past-as-is", "{seat} is {past} past its limit ({limit}) as it is"},
    {"shape.would-need-insert", "{seat} would need an insert"},
    {"shape.others-deeper", "{others} other seat{others:|s} deeper by {deeper} in total"},
    {"shape.cost-but", "{cost}, but {breaks}"},
    {"shape.two-ways",
     "{seats} went deeper than planned, and the plan does not bear it. Two ways: depths as planned and Z "
     "moved alone (shifted): {shifted}; depths made anew around it (anew): {anew}"},
    {"shape.two-ways-frees", "plan = \"shifted\" or plan = \"anew\" in the [[reading.first]] of {seats}",
     "plan = \"shifted\" or plan = \"anew\" in the reading of a first seat of {seats}"},

    // depth_doubts.cpp
    {"shape.beside-the-head",
     "depth.deck_at lies {off} outside the head's bolt holes and valves: is there deck? It is a place in the "
     "head's own frame.",
     "Deck at lies {off} outside the head's bolt holes and valves: is there deck? It is a place in the "
     "head's own frame."},
    {"shape.over-a-bore",
     "depth.deck_at lies {away} from the middle of cylinder {cylinder}, whose bore reaches {bore}: there the "
     "chamber may be, or its edge. Is there flat deck, at least the ball's radius round it?",
     "Deck at lies {away} from the middle of cylinder {cylinder}, whose bore reaches {bore}: there the "
     "chamber may be, or its edge. Is there flat deck, at least the ball's radius round it?"},
    {"shape.recession-sign",
     "The recession of {seat} is read as {recession} while the other seats lie about {others} below the "
     "drawing: read it again, or take the minus away."},
    {"shape.old-seat-off",
     "The readings put the old seat of {seat} {off} {way} its drawing height; more than {most} is asked "
     "about."},
    {"shape.cut-deep",
     "The seat of {seat} would be cut {depth} deep; more than {most} at once is asked about."},
    {"shape.would-rest",
     "As its old face is read, the cutter would come to rest on seat {seat} {off} {way} the old height; more "
     "than {most} is asked about. Read face_outside (a diameter), face_width or the section again."},
    {"shape.section-point",
     "The section of seat {seat} has a point {point}, and the seat's circle has a radius of {radius}: no "
     "point of its old face lies there. Read it again."},
    {"shape.lowest-edge-odd",
     "The lowest edge of cutter {cutter} is said to lie {lowest} below its gauge plane, and the form it cuts "
     "goes {form} below: Z0 from the deck goes by it."},
    {"shape.zero-rest",
     "Z0 is taken on the old seat of {seat}, so that the cutter at rest on it shows 0; its rest_z is read as "
     "{rest}. Has Z0 moved, or was it taken on another seat?"},
    {"shape.first-uncut",
     "The first seat {seat} is read as no deeper than its old one. Has it been cut, and is the depth read on "
     "that seat?"},

    // height_doubts.cpp
    {"shape.heights-contradict",
     "Two readings of the old seat of {seat} contradict each other: its {by} puts it {apart} {way} than the "
     "one it is planned by. Read it again."},
    {"shape.finish-far",
     "The {kind} seats would be finished {off} {way} the drawing: more than {most} is asked about. Is a "
     "point missing in the finished height?"},
});

template <Word Id, Word... Names>
Sentence sentence(Given<Names>... given) {
    return words::made<english_table, Id>(std::move(given)...);
}

}  // namespace seatwright::shape
