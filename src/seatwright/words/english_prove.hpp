// English, what prove says.
#pragma once

#include <array>

#include "seatwright/words/sentence.hpp"

namespace seatwright::prove {

inline constexpr auto english_table = std::to_array<words::Line>({
    {"prove.seats-not-measured", "head {head}: no reading after cutting of {seats}"},
    {"prove.runout", "runout"},
    {"prove.width", "width"},
    {"prove.width-narrowest", "width, narrowest place"},
    {"prove.width-widest", "width, widest place"},
    {"prove.stem-height", "stem height"},
    {"prove.vacuum", "vacuum"},
    {"prove.vacuum-loss", "vacuum loss"},
    {"prove.ways", "{ways}"},
    {"prove.as-read", "as read"},
    {"prove.by-drawing", "by its drawing bore"},

    // components.cpp
    {"prove.changes-with-cutter", "changes with the cutter fitted"},
    {"prove.goes-with-setup", "goes with the group of valves that lean alike, which one setup holds"},
    {"prove.goes-with-pilot", "goes with the pilot size the guide takes"},
    {"prove.head-as-a-whole",
     "the head as a whole: its casting, or how it was set up; one cannot be told from the other"},
    {"prove.same-in-every-head", "the same valves in every head: pattern of the casting or of the fixture"},
    {"prove.from-seat-to-seat", "neither: pilot, cutting and gauge from seat to seat"},

    // causes.cpp
    {"prove.once-per-turn", "once per turn, {size} towards {towards}"},
    {"prove.once-per-turn-sure",
     "sure that it is once per turn; play, a bent pilot and plumb error cannot be told from one trace"},
    {"prove.alone-it-takes",
     "alone it would take a pilot standing {off} off the guide axis at the seat (play or bend), or a plumb "
     "error of {lean} none of which the float takes up"},
    {"prove.pilot-play", "pilot {pilot} in this guide ({how}) has {play} of play there, up to {share} of it"},
    {"prove.lean-read", "the lean read here, {lean}, makes up to {share}"},
    {"prove.play-likely", "play is likely: the lean read is too small"},
    {"prove.plumb-likely", "plumb error is likely: the play is too small"},
    {"prove.bent-likely", "a bent pilot is likely: play and lean as known are too small"},
    {"prove.to-tell",
     "to tell: turn the pilot half a turn in the guide and trace again; what turns with it is the pilot, "
     "what stays is the seat"},
    {"prove.oval",
     "twice per turn, {size} larger across {across} than square to it: an oval seat or insert bore, or a "
     "head sprung in its clamps"},
    {"prove.oval-sure",
     "an oval seat cannot be told from sprung clamping by one trace: slacken the clamps and trace again"},
    {"prove.three-lobe",
     "three times per turn, amplitude {size}: clamping at three points, a jaw pattern of the insert's own "
     "turning; it can read small on a dial and still leak"},
    {"prove.three-lobe-sure",
     "clamping cannot be told from an insert turned in three jaws: slacken the clamps and trace again"},
    {"prove.four-lobe",
     "four times per turn, amplitude {size}: clamping at four points, or a tool that dug in regularly"},
    {"prove.four-lobe-sure", "clamping cannot be told from slow chatter by one trace"},
    {"prove.chatter-sure", "likely; tool marks left at regular stops would look the same"},
    {"prove.marks", "{count} marks round the seat, amplitude {size}"},
    {"prove.marks-at", "if it was cut at the {rpm} rpm this material and size would get, that is {hertz} Hz"},
    {"prove.own-mode", "sure: the machine's own mode is at {hertz} Hz"},

    // components.cpp
    {"prove.sampling",
     "{passed} of {measured} seats read pass in runout: with 95 % confidence at least {rate} of seats made "
     "the same way pass."},
    {"prove.more-without-further", "{more} more without a further failure would show {rate}."},
    {"prove.more-without", "{more} more without a failure would show {rate}."},

    // verdict.cpp
    {"prove.on-the-limit",
     "the value lies on the limit: no measurement will decide it, take the seat further inside"},
    {"prove.better-gauge", "a gauge with a standard uncertainty of at most {least}"},
    {"prove.more-readings", "{more} more {more:reading|readings} like these"},
    {"prove.scatter-less", "readings that scatter less"},
    {"prove.gauge-and-readings", "a better gauge and more readings together"},

    // runout.cpp
    {"prove.whole-turn", "a trace over the whole turn"},
    {"prove.new-trace", "a new trace: the zero of this one seems to have slipped"},

    // seat.cpp
    {"prove.of-head", "head {head}: {text}"},
    {"prove.trace-short", "{readings} readings give a runout but no shape; take at least {least}"},
    {"prove.trace-gap",
     "nothing was read over {gap} from {from} on: runout and out-of-round are of what was read and may be "
     "larger"},
    {"prove.slipped-zero",
     "the zero seems to have slipped by {step} at reading {reading} ({angle}): fix the gauge and take the "
     "trace again"},
    {"prove.no-circles", "no reference circles: {error}"},
    {"prove.slipped-earlier", "the zero of an earlier trace seems to have slipped by {step}"},
    {"prove.vacuum-below", "vacuum {vacuum} is below {limit}"},
    {"prove.vacuum-loss-above", "vacuum loss in 10 s, {loss}, is above {limit}"},
    {"prove.outside-limits", "{what} {value} is outside its limits by more than the uncertainty"},
    {"prove.undecided", "{what} is undecided; what would decide it: {decider}"},
    {"prove.not-measured", "{what} has a limit but was not measured"},
    {"prove.no-limits", "nothing to judge by: the job gives no limit for what was measured"},

    // whole_head.cpp
    {"prove.stems-apart",
     "stem heights of {kind} seats lie {apart} apart, from {lowest} up to {highest}: the job allows "
     "{allowed} (stem_spread), and the uncertainty does not make up for it"},
    {"prove.stems-undecided",
     "whether stem heights of {kind} seats lie within stem_spread, {allowed}, is undecided: they are {apart} "
     "apart, from {lowest} up to {highest}, as near to it as the gauge is sure"},

    // judge.cpp
    {"prove.uncertainty-not-stated",
     "no gauge_u is given for {count} of {seats} seats ({first} first): their values are compared with the "
     "limits as they stand, which proves less"},
    {"prove.vacuum-a-hint",
     "assumes a vacuum is only a hint and never outweighs a runout: grease or oil lets a bad seat hold, "
     "dust, carbon, a leaking guide seal or plug makes a good one lose it (common practice)"},
    {"prove.nothing-measured", "no seat has been measured: nothing is proven"},
    {"prove.trace-square",
     "assumes a trace is read square to the seat face while turning about the guide axis; reference circles "
     "are limaçons, right to eccentricity squared over the seat's diameter"},
    {"prove.gauge-u",
     "assumes gauge_u is one standard uncertainty and covers the gauge's own resolution: U = 2·gauge_u, "
     "widened only by the scatter of repeated readings (ISO 14253-1: U counts against the one who claims)"},

    // gauges.cpp
    {"prove.gauge-overdue",
     "gauge \"{gauge}\" was calibrated until {until} and was used after it ({first} first, {figures} "
     "figures): have it calibrated, and measure again what stands near a limit"},
});

template <Word Id, Word... Names>
Sentence sentence(Given<Names>... given) {
    return words::made<english_table, Id>(std::move(given)...);
}

}  // namespace seatwright::prove
