// English, what cut says.
#pragma once

#include <array>

#include "seatwright/words/sentence.hpp"

namespace seatwright::cut {

inline constexpr auto english_table = std::to_array<words::Line>({
    {"cut.of-cutter", ", cutter {cutter},"},
    {"cut.its-line", " (its line {line})"},
    {"cut.none-handed-out", "no program is handed out: {fault}"},
    {"cut.seats-apart", "the files' seats named apart, some seats only"},
    {"cut.names-alike-give", "{reason}; give {frees}"},
    {"cut.zero-not-settled", "Z0 is not settled: {why}"},
    {"cut.of-valve", "{valve}: {reason}"},
    {"cut.restart-good", "cut and measured good: {seats}"},
    {"cut.restart-measure-again", "cut since the last good reading, measure again: {seats}"},
    {"cut.restart-begun", "begun (look for blade in the seat; may be deeper than its stop): {seats}"},
    {"cut.restart-left", "left: {seats}"},
    {"cut.plumb-frees", "another fixture, or a wedge under the head; or {allow}",
     "another fixture, or a wedge under the head, or a lead lets it pass"},
    {"cut.guide-repair-frees", "the guide repaired and read again, or {allow}",
     "the guide repaired and read again, or a lead lets it pass"},
    {"cut.below-finish-frees", "a depth of its own, an insert, or {allow}",
     "a depth of its own, an insert, or a lead lets it pass"},
    {"cut.by-limit", " by {limit}"},
    {"cut.and-untouched", ", and untouched the least sure pilot enters with a chance of {chance}"},
    {"cut.and-thicker",
     ", and the pilot of {guide} is thicker than the one with which the chance of a blind run is reckoned"},
    {"cut.so-much-short", ", {short} short"},
    {"cut.its-depth", "its depth"},
    {"cut.its-height", "the height its card asks for"},
    {"cut.not-a-first", "{what}{instead}"},
    {"cut.zero-again-or", "Z0 taken again, or {allow}", "Z0 taken again, or a lead lets it pass"},
    {"cut.deeper", "deeper"},
    {"cut.less-deep", "less deep"},
    {"cut.of-seats", "{seats}: {text}"},
    {"cut.seats-of-kind", "{kind} seats"},
    {"cut.lower-third", "of the lower third of the material's range"},
    {"cut.material-allows", "the material allows"},
    {"cut.its-lower-third", "the lower third of its range"},
    {"cut.its-range", "its range"},
    {"cut.spare-pilot", "the pilot"},
    {"cut.spare-torque", "the machine's torque"},
    {"cut.spare-both", "torque and pilot"},

    // charts.cpp
    {"cut.unread-as-ring",
     "assumes that nothing in {seats}, which nobody read, stands higher than a ring newly put in, its top "
     "level "
     "with the outer end of the form: the spindle is started above that"},
    {"cut.unread-as-drawn",
     "assumes that {seats}, which nobody read, stand no higher than drawn; of a ring newly put in give the "
     "two "
     "top corners as its section, or the kind's insert"},
    {"cut.first-of-this-plan",
     "assumes that {seats} was first cut by a file of this plan; where the plan was changed since, give "
     "beside "
     "the reading, as planned, what the sheet of that file planned it to read"},
    {"cut.every-facet",
     "assumes every facet of the form is in cut at once over its whole width, with sharp blades that share "
     "the chip "
     "evenly (Kienzle's law per facet)"},
    {"cut.deflection", "assumes a deflection of {um} um is allowed to remain when the dwell ends"},
    {"cut.dwell-turns",
     "assumes a dwell of {turns} turns, since the machine's axial stiffness is not known (common practice 1 "
     "to 3)"},
    {"cut.two-springs",
     "assumes a steel pilot and the locked float bear the side force of a single blade like two springs"},
    {"cut.pilot-alone", "assumes a steel pilot alone bears the side force of a single blade"},
    {"cut.one-mode",
     "assumes one mode of chatter, along the cutting force, a cutting stiffness of kc at the sealing facet's "
     "chip "
     "times the blades, and no damping from a worn edge (slow speeds are steadier than said)"},
    {"cut.times",
     "assumes {load} s to load and unload a head, {setup} s for each setup, {change} s for each cutter put "
     "in"},
    {"cut.rapids", "assumes rapids of {rapid} and {accel} where the machine does not say"},
    {"cut.nothing-higher",
     "assumes nothing of fixture or clamps within {within} of the path stands higher than the head"},

    // conditions.cpp
    {"cut.slowest-too-fast",
     "the machine's slowest speed of {rpm} rpm cuts at {speed}, faster than the {most} {why}"},
    {"cut.fastest-too-slow",
     "{rpm} rpm cuts at {speed}, slower than the {least} the material asks for; no step of the machine lies "
     "inside {range}"},
    {"cut.torque",
     "{torque} even at the finest feed, the machine has {has}; cut top and throat first, then the face"},
    {"cut.feed-lowered", "fed {feed} a turn instead of {instead}, to spare {spare}"},
    {"cut.power",
     "{power} W even at {rpm} rpm, the slowest speed, the machine has {has} W; cut top and throat first, "
     "then the face"},
    {"cut.speed-lowered", "turned at {rpm} rpm for the machine's {power} W"},
    {"cut.chatter",
     "no speed from {low} to {high} rpm is free of chatter at the form's {width} of cut; {widest} would be "
     "stable at {rpm} rpm, {least} at any speed: open top and throat first, or use a narrower blade"},
    {"cut.dwell",
     "the spindle gives {gives} under the thrust; {turns} turns would leave {leaves}, more than {most} rub "
     "and harden the face: feed the last of it more finely"},
    {"cut.pilot-bending",
     "the blade bends the pilot {pilot} with {stress}, more than the {limit} hardened steel endures; use a "
     "stouter or shorter one or more blades"},
    {"cut.pilot-slender", "pilot {pilot} stands {diameters} diameters free; beyond {limit} it whips"},

    // seat_plan.cpp
    {"cut.material-gap", "material \"{material}\": {gap}"},
    {"cut.not-on-shelf", "not on the shelf; speed and feed of integral iron (common practice) stand in"},
    {"cut.no-speed-or-feed", "no speed or feed range; those of integral iron (common practice) stand in"},
    {"cut.no-forces", "no kc11 or mc, so forces, power and chatter are not known"},

    // first_in_form.cpp
    {"cut.first-twice", "{valve} has two readings of its first cut, {first} and {last}: the last one counts"},
    {"cut.first-other",
     "the reading of a first seat names {valve}, where the first file of setup {setup} cuts {expected} "
     "first: right only if {valve} was chosen by hand (`first` in [cut])",
     "the reading of a first seat names {valve}, where the first file of setup {setup} cuts {expected} "
     "first: right only if {valve} was chosen by hand (“first” in [cut])"},
    {"cut.first-stop-not-followed",
     "first_stop = false is not followed in setup {setup}: a limit is nearer than Z is known, so the first "
     "seat is measured"},
    {"cut.zero-cut-already",
     "Z0 is taken on {valve}, which a first-seat reading says is cut already, so that it cannot be checked "
     "there; the first file cuts {expected} first"},
    {"cut.zero-cut-already-frees",
     "Z0 taken on another seat (`zero_on`), or first = \"{valve}\" in [cut] where it was chosen",
     "Z0 taken on another seat (“zero_on”), or first = \"{valve}\" in [cut] where it was chosen"},
    {"cut.depth-says-nothing",
     "how deep {valve} was cut says nothing of Z, since its old seat was not read: type its stem height or "
     "how far its valve lies below the deck"},
    {"cut.height-says-nothing",
     "the height of {valve} says nothing of Z, since none was read before it was cut and the drawing gives "
     "none: "
     "type its depth, measured with one gauge before and after"},
    {"cut.first-past-limit",
     "{valve} as read would end {depth} deep, past its limit of {limit}: within what the gauge tells, so no "
     "stop moves; measure it again before the second file"},
    {"cut.first-instead", "; the first file cuts {expected} first"},
    {"cut.first-in-doubt",
     "the reading of a first seat names {valve}, where the first file of setup {setup} cuts {expected} "
     "first; every stop would move by what it says"},
    {"cut.first-in-doubt-frees",
     "its valve corrected; or, if {valve} was cut first, first = \"{valve}\" in [cut], or sure = true in "
     "that reading",
     "its valve corrected; or, if {valve} was cut first, first = \"{valve}\" in [cut], or somebody says "
     "that it is right"},
    {"cut.first-planned-otherwise",
     "the file that cut {valve} first planned {then} for that reading, by the papers in this folder; by the "
     "job as it is now it would be {now}. Taken for an error of Z0 that change would move every stop"},
    {"cut.first-planned-otherwise-frees",
     "planned = \"{then}\" in that reading; or planned = \"{now}\", if a file of the job as it is now cut it",
     "beside that reading what the sheet of the file that cut it planned: {then}, or {now} if it was a file "
     "of "
     "the job as it is now"},
    {"cut.first-as-finished",
     "the reading of the first seat {valve} is what it shall come to finished, {short} more than its first "
     "file leaves: measured, or typed from the card?"},
    {"cut.first-as-finished-frees",
     "what the gauge shows of {valve} now; or, if it shows just that, sure = true in that reading",
     "what the gauge shows of {valve} now; or, if it shows just that, somebody says that it is right"},
    {"cut.cannot-be-first", "what was read of {valve} cannot be of its first cut"},

    // first_seat.cpp
    {"cut.trim-within",
     "{valve} is {amount} {way} than planned, within what the gauge can tell ({u}): Z stays"},
    {"cut.trim-too-large",
     "{valve} is {amount} {way} than planned, more than may be trimmed ({most}): take Z0 again"},
    {"cut.trim-at-control",
     "{valve} is {amount} {way} than planned; Z0 was moved at the control: no file is shifted"},
    {"cut.trim-in-file", "trim {trim} is in this file: do not move Z0"},

    // forms.cpp
    {"cut.done-already", "{valve} is measured as deep as its plan asks already: it is in no file"},
    {"cut.first-seat",
     "seat {valve} of cutter {cutter} is cut first{short}: cut it, type {type}, take the second file"},

    // gate.cpp
    {"cut.travel", "the guides of setup {setup} span {more} more along {axis} than the machine travels"},
    {"cut.travel-frees", "another machine, or the head moved along the table"},
    {"cut.plumb", "guide {guide} stands {off} off plumb, more than the fixture's limit of {limit}"},
    {"cut.would-slip", "in setup {setup} the clamps hold the head only {times} times over: it would slip"},
    {"cut.would-slip-frees", "more clamp force, or a captive fixture"},
    {"cut.not-touched", "no guide of head {head} was touched in setup {setup}{untouched}"},
    {"cut.touch-of", "a touch of guide {guide}"},
    {"cut.zero-in-worn-guide",
     "Z0 is to be taken on {guide}, whose guide is to be repaired first: a pilot in it does not stand where "
     "the "
     "seat's axis was"},
    {"cut.zero-in-worn-guide-frees",
     "depth.zero_on on a seat with a good guide, the guide repaired and read again, or {allow}",
     "Z0 taken on a seat with a good guide, the guide repaired and read again, or a lead lets it pass"},
    {"cut.guide-repair", "guide {guide} is to be repaired first, since the seat follows the guide: {why}"},
    {"cut.reading-lacking", "a reading that the plan of seat {seat} needs is lacking"},
    {"cut.reading-of", "a reading of seat {seat}"},
    {"cut.below-finish", "the old seat {seat} is already at or below the finished height"},
    {"cut.not-to-be-cut", "seat {seat} is not to be cut"},
    {"cut.not-to-be-cut-frees", "cut_allowed, or a form for this kind of seat"},
    {"cut.too-deep", "seat {seat} would go deeper than its limit{by}"},
    {"cut.an-insert", "an insert"},
    {"cut.cuts-into", "the form of seat {seat} cuts {by} into {other}"},
    {"cut.another-form", "another form"},
    {"cut.no-cutter", "no cutter of the shelf makes seat {seat} within its tolerances"},
    {"cut.no-cutter-frees", "the form that is drawn, or an allowance for the nearest"},
    {"cut.depth-not-known", "how deep seat {seat} goes is not known"},

    // pilot_windows.cpp
    {"cut.another-pilot-use", "another [cut] pilot, or a pilot of the other style"},
    {"cut.pilot-needs", "pilot \"{pilot}\" needs {what} (`{key}`)",
     "pilot \"{pilot}\" needs {what} (“{key}”)"},
    {"cut.needs-diameter", "its diameter"},
    {"cut.pilot-does-not-fit", "pilot \"{pilot}\" does not fit the bore as read"},
    {"cut.fitting-pilot", "a pilot that fits the guide"},
    {"cut.tapered-unread",
     "the guide was not read, and a tapered pilot cannot be chosen by the drawing bore"},
    {"cut.guide-reading", "a reading of the guide"},
    {"cut.unread-no-bore", "the guide was not read and its drawing bore is not given"},
    {"cut.pilot-too-near",
     "pilot \"{pilot}\" leaves less than {least} of the drawing bore, and the guide was not read"},
    {"cut.pilot-too-near-frees", "a reading of the guide, or a smaller pilot"},
    {"cut.pilot-too-small", "pilot \"{pilot}\" is {by} smaller than the bore: it would not lead the cutter"},
    {"cut.pilot-play",
     "pilot \"{pilot}\" has a play of {play} at the seat, a runout of up to {runout} over the limit of "
     "{limit}"},
    {"cut.larger-pilot", "a larger pilot"},
    {"cut.needs-to-seat", "the guide's top to the gauge plane"},
    {"cut.needs-length", "the guide's length"},
    {"cut.needs-taper", "its taper"},
    {"cut.needs-above", "its gauge line to its upper end"},
    {"cut.needs-lowest", "the cutter's gauge plane to its lowest edge"},
    {"cut.needs-bore-depth", "how much of it the cutter swallows"},
    {"cut.needs-reach", "the holder's face to its tip"},
    {"cut.needs-drop", "the holder's face to the cutter's gauge plane"},
    {"cut.needs-below", "the free room under the guide's far end"},
    {"cut.needs-gauge-at", "the holder's face to its gauge line"},
    {"cut.needs-slide", "how far it can be pushed back"},
    {"cut.tip-past",
     "the tip of pilot \"{pilot}\" comes up to {past} past the guide's far end, where {free} are free and "
     "{off} of them must stay so"},
    {"cut.tip-past-frees-wedge",
     "a pilot whose tip is nearer its gauge line, or a larger one with slide enough"},
    {"cut.tip-past-frees", "a shorter pilot, or a holder with more drop"},
    {"cut.pilot-engaged", "pilot \"{pilot}\" is only {engaged} in the guide at the stop; {least} are needed"},
    {"cut.pilot-engaged-frees-wedge", "a pilot whose tip is further below its gauge line, or a smaller one"},
    {"cut.pilot-engaged-frees", "a longer pilot, or a holder with less drop"},
    {"cut.pilot-solid", "pilot \"{pilot}\" cannot slide back and would be driven solid"},
    {"cut.pilot-solid-frees", "a pilot that slides in its holder, or [cut] pilot = \"planted\""},
    {"cut.pilot-late",
     "pilot \"{pilot}\" may seat only with {left} left to the stop, where {least} are needed before the "
     "blade is near"},
    {"cut.pilot-late-frees", "a pilot that stands further out, or a larger one"},
    {"cut.pilot-pushed",
     "pilot \"{pilot}\" may be pushed back {back} at the stop and slides only {slide}: it could be driven "
     "solid"},
    {"cut.pilot-pushed-frees", "a pilot with more slide, a smaller one, or a holder with more drop"},
    {"cut.pilot-swallowed", "pilot \"{pilot}\" may stand {stands} into the tool, whose bore swallows {bore}"},
    {"cut.pilot-swallowed-frees", "a shorter pilot, or a holder with a deeper bore"},
    {"cut.cannot-be-planted",
     "pilot \"{pilot}\" slides in the guide and cannot be planted: planted needs a tapered one"},
    {"cut.cannot-be-live",
     "pilot \"{pilot}\" wedges in the guide and cannot turn there: live needs a parallel one"},
    {"cut.no-pilot-no-limit",
     "without a pilot the seat's runout limit must be given, to judge whether the spindle alone keeps it"},
    {"cut.no-pilot-runout",
     "without a pilot the guide's place and the plumb error allow a runout of {runout}, over the limit of "
     "{limit}"},
    {"cut.no-pilot-runout-frees", "another touch of this guide, or [cut] pilot = \"carried\""},

    // estimate.cpp
    {"cut.guides-not-measured", "{count} {count:guide|guides} not yet measured"},
    {"cut.cracks", "cracks found by pressure test or penetrant"},
    {"cut.deck-flat", "the deck, if it is not flat"},
    {"cut.valves-springs", "valves, springs, seals and locks"},
    {"cut.parts-materials", "parts and materials"},

    // fewest_pilots.cpp
    {"cut.no-pilot-on-shelf", "no pilot is on the shelf"},
    {"cut.a-pilot", "a [[pilot]]", "a pilot"},

    // form_pilots.cpp
    {"cut.lowest-not-known", "how far the cutter's lowest edge stands below its gauge plane is not known"},

    // form_plan.cpp
    {"cut.block-pilot-out",
     "Z0 is taken on a block with the pilot out, and putting the pilot in takes the cutter off the spindle"},
    {"cut.block-pilot-out-frees", "depth.from = \"touch\", or machine.pilot_change = \"in place\"",
     "from = \"touch\", or pilot change = \"in place\""},

    // plan.cpp
    {"cut.program-refused",
     "the program of setup {setup}{cutter} is not handed out; read back: {fault}{line}"},
    {"cut.figures-behind",
     "the figures behind what was read back put right; where none of them is wrong the fault is ours: report "
     "it"},
    {"cut.machine-that-bears", "a machine that bears it, or the form cut in steps"},
    {"cut.what-it-says", "what it says put right"},
    {"cut.names-alike", "two programs would both be called {file}: none of them is handed out"},
    {"cut.names-alike-frees", "names of head or valves that differ in letters and digits"},

    // seat_record.cpp
    {"cut.new-blade",
     "cutter {cutter} has a new blade: no seat of its form is finished and measured good, and none not yet "
     "cut has a known height, so that its Z0 cannot be taken"},
    {"cut.new-blade-frees",
     "a reading after cutting of a finished seat, or recession or below_deck of a seat not yet cut"},

    // sequence.cpp
    {"cut.left-out", "left out of the programs: {seats}; {why}"},
    {"cut.left-out-no-cutter", "no cutter on the shelf makes these seats"},
    {"cut.left-out-no-depth", "how deep they go is not known: read cleanup or stem height"},

    // travel.cpp
    {"cut.must-move", "{what} {axis} must move {needed}, the machine has {has}"},
    {"cut.seat-to-seat", "from seat to seat"},
    {"cut.with-place", "with `{place}`", "with “{place}”"},
    {"cut.clear-to-lowest", "from the clear height to the lowest stop"},

    // zeros.cpp
    {"cut.zero-gone",
     "the first seat {first} was read with Z0 on {seat}, which is measured as cut by now: Z0 can no longer "
     "be checked there, and its trim is not for another"},
    {"cut.zero-gone-frees",
     "the reading after cutting under {seat} corrected if it is of another seat; else what is left as some "
     "seats only, with a Z0 of its own"},
});

template <seatwright::Word Id, seatwright::Word... Names>
Sentence sentence(seatwright::Given<Names>... given) {
    return words::made<english_table, Id>(std::move(given)...);
}

}  // namespace seatwright::cut
