// English, what the papers say beside the stages' own sentences: the setup sheet, its work card, the
// certificate, the paper of a forecast.
#pragma once

#include <array>

#include "seatwright/words/sentence.hpp"

namespace seatwright::papers {

inline constexpr auto english_table = std::to_array<words::Line>({
    {"papers.of-valve", "{valve}: {text}"},
    {"papers.and-more", "{names} and {more} more"},
    {"papers.sentence-of", "{clause}."},

    // sheet.cpp
    {"papers.stop", "STOP: this plan cannot be carried out as asked."},
    {"papers.more-under-cautions", "and {more} more under Cautions."},
    {"papers.more-in-plan", "and {more} more in plan.json."},
    {"papers.level", "Level: {words}."},
    {"papers.may-stay-off", "What follows may stay off the machine."},

    // sheet_hold.cpp
    {"papers.from-the-end", "from the end the {count} steepest"},
    {"papers.from-the-front", "from the front the most swung"},
    {"papers.from-the-front-each", "from the front the most swung each way"},
    {"papers.setups-drawn",
     "Of {setups} setups are drawn: {views}. The others stand likewise at the tilt and swing of their row."},
    {"papers.spare-of", "{axis} {spare} (setup {setup})"},
    {"papers.travel-to-spare", "Travel to spare at least {each}."},

    // sheet_card.cpp
    {"papers.trim-in-file", "A trim of {trim} is in the file: do not move Z0."},
    {"papers.halt-add-length",
     "Halt after {valve}: deeper than planned by e: add e to the length of cutter {cutter} (H{cutter}); "
     "shallower: the other way by as much."},
    {"papers.halt-take-length",
     "Halt after {valve}: deeper than planned by e: take e from the length of cutter {cutter} (H{cutter}); "
     "shallower: the other way by as much."},
    {"papers.halt-less-plus",
     "Halt after {valve}: deeper than planned by e: set Z0 up by e: with the tool where it stands type the Z "
     "shown less e as its new Z; shallower: set Z0 down by as much, the Z shown plus it."},
    {"papers.halt-plus-less",
     "Halt after {valve}: deeper than planned by e: set Z0 up by e: with the tool where it stands type the Z "
     "shown plus e as its new Z; shallower: set Z0 down by as much, the Z shown less it."},
    {"papers.then-z-above", "then the Z above"},
    {"papers.done", "{step} (done)"},

    // sheet_map.cpp, sheet_seats.cpp
    {"papers.pilot-of-every", "Pilot of every guide: {pilot}."},
    {"papers.pilots", "Pilots: {pilots}."},
    {"papers.speeds", "Speeds: {speeds}."},
    {"papers.speeds-of", "{seats}: {speed}."},
    {"papers.numbered", "{number}: {what}"},
    {"papers.not-cut", "not cut"},
    {"papers.speed", "{rpm} rpm, feed {feed}/turn, dwell {turns} turns"},
    {"papers.depths-count", "Depths count from each old seat; the Z of each stop stands on the card."},
    {"papers.suspect", "!: the touch of this guide is suspect."},
    {"papers.blade-set", "T{tool}: {cutter}, blade set to {setting} diameter."},
    {"papers.seats-in-order", "Seats in order: {seats}. About {min} min and {halts} halts a head."},
    {"papers.seats-in-order-of-some",
     "Seats in order: {seats}, with {halts} halts. About {min} min a head, the {left} {left:seat|seats} in "
     "no "
     "file counted too."},

    // sheet_words.cpp
    {"papers.posts", "Posts a and b: set {span} apart with a tape before the head is lifted."},
    {"papers.posts-clearance",
     "Posts a and b: set {span} apart with a tape before the head is lifted; clearance {clearance} in the "
     "bolt holes."},
    {"papers.programs-many",
     "Programs {first} to {last}: {count} files, one a setup, each read back and checked."},
    {"papers.program", "Setup {setup}: {file}, {lines} lines, read back and checked."},
    {"papers.likewise", "{text} (likewise {others}: figures in plan.json)"},
    {"papers.so-many-more", "{more} more"},
    {"papers.eye-protection",
     "Eye protection on; no gloves and no loose sleeves near a turning spindle; chips guarded, never cleared "
     "by hand."},
    {"papers.nobody-under",
     "Nobody stands under or beside a head that is being tilted; clamps are tight before anything turns."},
    {"papers.maker-first", "The engine maker's data come before this sheet, local rules before both."},
    {"papers.deck-cut-first",
     "{by} is off the deck already: depths, heights and a Z0 on the deck count from the deck as cut."},
    {"papers.first-file-same",
     "The file that cut {seats} first has the mark of this sheet, {mark}. If it has another, the plan was "
     "changed since: write beside that reading, as planned, what its own sheet planned it to read."},
    {"papers.which-way-round",
     "Setup {setup}: {kind} valve {valve} at the end where X is least? The touches cannot tell."},
    {"papers.readout-as-touched",
     "Setup {setup}: readout as it stood at the touches, not zeroed since: over guide {guide} it shows X "
     "{x}, Y {y}."},
    {"papers.readout-each",
     "Readout zeroed with the pilot free in each other setup's datum guide, setup by setup."},
    {"papers.readout-in", "Readout zeroed with the pilot free in guide {guide}."},
    {"papers.readout-then", "Readout zeroed with the pilot free in guide {guides}, setup by setup."},
    {"papers.then-guide", ", then {guide}"},
    {"papers.guides-measured",
     "Guides measured at top, middle and bottom, repaired or passed, and clean; deck clean where it sits."},
    {"papers.posts-and-clamps", "Posts {span} apart; head down on its seats; clamps tight; fixture locked."},
    {"papers.each-setup-plumb",
     "Each setup: tilt and swing of its row; level on a guide within {within}° of plumb."},
    {"papers.setup-plumb", "Setup {setup}: {stands}; level on a guide within {within}° of plumb."},
    {"papers.right-pilot",
     "Right pilot for each guide, turned by hand: no rock, no bind; spindle float free, then locked."},
    {"papers.blade-checked", "Blade set to its diameter and checked on a ring or by a first light touch."},
    {"papers.to-the-top",
     "\"{top}\", given by hand with nothing under the tool, takes the spindle of this machine to its highest "
     "place, whatever Z shows: every file begins with it."},
    {"papers.mark-and-zero",
     "The plan's mark on this sheet is the one in the file's first line. Z0 taken anew for each cutter, as "
     "the card says; file run dry above the head once."},
    {"papers.first-z", "first Z {z}"},
    {"papers.first-z-deep", "first Z {z}: {reads} deep"},
    {"papers.first-z-stem", "first Z {z}: stem {reads}"},
    {"papers.first-z-below", "first Z {z}: below deck {reads}"},
    {"papers.measure-depth", "Then measure {valve}, planned {reads} deep."},
    {"papers.measure-depth-type",
     "Then measure {valve}, planned {reads} deep. Type its depth: the second file is made from it."},
    {"papers.measure-stem",
     "Then measure {valve} with the setting valve: its old height was not read, so its depth says nothing. "
     "Stem height planned {reads}."},
    {"papers.measure-stem-type",
     "Then measure {valve} with the setting valve: its old height was not read, so its depth says nothing. "
     "Stem height planned {reads}. Type the stem height: the second file is made from it."},
    {"papers.measure-below",
     "Then measure {valve} with its valve: its old height was not read, so its depth says nothing. Planned "
     "{reads} below the deck."},
    {"papers.measure-below-type",
     "Then measure {valve} with its valve: its old height was not read, so its depth says nothing. Planned "
     "{reads} below the deck. Type below_deck: the second file is made from it."},
    {"papers.no-reading-tells",
     "{valve}: neither its old height nor a drawing height is known, so no reading tells where Z is. Give "
     "stem_height or below_deck of its form."},

    // certificate.cpp
    {"papers.no-record", "Made without a stored record."},
    {"papers.record", "Record {mark}: the first digits of the SHA-256 of proof.json"},
    {"papers.how-to-read",
     "Only what is listed here was measured. Values are given ± U, the expanded uncertainty: coverage factor "
     "k = 2 but where another k is printed under the value; about 95 %. Verdicts by ISO 14253-1: pass, "
     "inside the limit by U or more; fail, outside by U or more; between them undecided. What was not "
     "measured is never a pass. The engine maker's data and local rules come before this paper."},
    {"papers.more-heads", "and {more} more heads that do not pass whole"},
    {"papers.heads-that-pass", "and {count} heads whose seats all pass"},
    {"papers.all-heads-pass", "All seats of all {count} heads pass."},
    {"papers.where-values-stand",
     "The values of every seat with their uncertainties stand in proof.json and results.csv, and in each "
     "head's own certificate."},
    {"papers.charts-in-record", "Charts of {charts} stand in the record."},
    {"papers.nothing-certified", "No seat was measured: nothing is certified."},

    // certificate_parts.cpp
    {"papers.undecided", "{seat}: {what} is undecided; to decide it: {decider}"},
    {"papers.accepted-by", "; accepted as it is by {by}"},
    {"papers.fails-in", "{seat}: fails in {what}{accepted}"},
    {"papers.is-accepted", "{seat}: {verdict}{accepted}"},
    {"papers.not-measured", "{seat}: not measured: {what}"},
    {"papers.no-reading-after", "no reading after cutting: {seats}"},
    {"papers.more-in-record", "and {more} more in the record"},
    {"papers.session", "{names}: {by}; {date}; {gauge}; {calibrated}"},
    {"papers.heads", "heads {names}"},
    {"papers.all-listed", "all that is listed"},
    {"papers.measured-what", "{names}: {what}"},
    {"papers.measured-by", "measured by {by}"},
    {"papers.by-not-recorded", "by whom not recorded"},
    {"papers.date", "date {date}"},
    {"papers.date-not-recorded", "date not recorded"},
    {"papers.dates", "dates from {first} to {last}"},
    {"papers.unknown-day", "an unknown day"},
    {"papers.gauge", "gauge {gauge}"},
    {"papers.gauge-not-recorded", "gauge not recorded"},
    {"papers.calibrated", "calibrated {day}"},
    {"papers.calibrated-not-recorded", "calibrated not recorded"},

    // certificate_seats.cpp, certificate_tight.cpp
    {"papers.off-axis-meant",
     "Off axis: once-per-turn part of the trace. Out-of-round: minimum zone of what is left of it."},
    {"papers.loss-meant", "{caution}. Loss: in 10 s with the pump shut off."},
    {"papers.own-k",
     "Where few repeats ask for it, k is not 2 but up to {most} (from {least}); each seat's stands in the "
     "record."},
    {"papers.u-of-all", "U of all: {each}."},
    {"papers.where-marks-stand",
     "Stem: stem height. Off axis, out-of-round and the single places of a width stand in the record; the "
     "mark behind a width is the worst of its mean and places."},
    {"papers.vacuum-mark", "{caution}. The mark behind a vacuum is the worse of level and loss."},

    // batch/draw_forecast.cpp
    {"papers.does-not-vary", "does not vary"},
    {"papers.no-height-planned", "where it lies is not known: no height is planned"},
    {"papers.nothing-makes-runout", "Nothing makes runout."},
    {"papers.nothing-brings", "Nothing brings more good heads."},

    // batch/forecast_paper.cpp
    {"papers.no-wear-known",
     "The last head of the batch is as likely to be good as the first: no wear of a blade is known."},
    {"papers.promises-nothing", "A forecast promises nothing: it says what follows from the figures listed."},
});

template <Word Id, Word... Names>
Sentence sentence(Given<Names>... given) {
    return words::made<english_table, Id>(std::move(given)...);
}

}  // namespace seatwright::papers
