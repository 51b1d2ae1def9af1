// English, what the report says over all stages: the job in brief, what frees a seat, the way on after the
// first seat, what a batch will come to.
#pragma once

#include <array>

#include "seatwright/words/sentence.hpp"

namespace seatwright::report {

inline constexpr auto english_table = std::to_array<words::Line>({
    {"report.over", "> {figure}"},
    {"report.under", "< {figure}"},
    {"report.from-to", "{low} to {high}"},
    {"report.at-most", "at most {figure}"},
    {"report.not-known", "not known"},
    {"report.tilt", "tilt {tilt}°"},
    {"report.tilt-and-swing", "tilt {tilt}°, swing {swing}°"},

    // brief.cpp
    {"report.first-stop", "{reason}; what frees it: {frees}"},
    {"report.of-valve", "{valve}: {text}"},
    {"report.stands-at", "tilt {tilt}°"},
    {"report.stands-swung", "tilt {tilt}° swing {swing}°"},
    {"report.stands-at-alone", "Tilt {tilt}°"},
    {"report.stands-swung-alone", "Tilt {tilt}° swing {swing}°"},
    {"report.setup-stands", "; {setup} {stands}"},
    {"report.setups-stand", "{count} setups{each}"},
    {"report.posts-apart", "{stands}; posts {span} apart"},
    {"report.posts-made-up", "{stands}; posts {span} apart (made up, not from you)"},
    {"report.level-says", "The level says: set the tilt to {tilt}°, then read it again."},
    {"report.load-the-head", "Set the posts with a tape, load the head, clamp, set the tilt."},
    {"report.no-guide-touched", "No guide touched yet."},
    {"report.zero-the-readout", "Zero the readout at the datum guide."},
    {"report.touches-disagree", "Head {head}: {count} touched, and they do not agree."},
    {"report.least-sure",
     "Head {head}: {count} touched; the least sure pilot enters with a chance of {chance}."},
    {"report.enough-touches", "Enough touches: go on to depth."},
    {"report.touch-guide", "Touch guide {guide}."},
    {"report.more-touches-no-help", "More touches will not help: a wider mouth or smaller tip will."},
    {"report.check-width", "Check width and contact on the first seat."},
    {"report.seats-deep", "{count} {count:seat|seats}, depth {least} to {most}"},
    {"report.no-seat-to-cut", "No seat to cut"},
    {"report.seats-to-height",
     "{count} {count:seat|seats} to the finished height, depths not known: no old seat read"},
    {"report.more-to-height", "; {count} more to the finished height, old seat not read"},
    {"report.for-an-insert", "; {count} for an insert"},
    {"report.not-allowed", "; {count} not allowed to be cut"},
    {"report.not-measured", "; {count} not measured"},
    {"report.below-finish", "; {count} already below the finished height"},
    {"report.no-seat-read", "; no seat of head {head} read"},
    {"report.measure-seats", "Measure stem height, recession and wear of each seat."},
    {"report.nothing-to-cut", "Nothing to cut yet."},
    {"report.plan-depths", "Plan the depths first."},
    {"report.held-no-program", "{count} held back, no program."},
    {"report.time-a-head", "{rpm} rpm, {min} min and {halts} {halts:halt|halts} a head"},
    {"report.time-of-all",
     "{rpm} rpm, {halts} {halts:halt|halts}, {min} min a head with the {left} {left:seat|seats} in no file"},
    {"report.held-programs", "{time}; {held} held back, {count} {count:program|programs}"},
    {"report.programs-checked", "{time}, {count} {count:program|programs} checked"},
    {"report.run-dry",
     "Run the first program dry above the head, chips guarded, then cut one seat and measure it."},
    {"report.nothing-measured", "Nothing measured yet."},
    {"report.trace-each", "Trace each seat after cutting."},
    {"report.verdicts", "{count} verdicts on {heads} {heads:head|heads}: {fail} fail, {undecided} undecided"},
    {"report.print-and-sign", "Print and sign the certificate."},
    {"report.see-the-failed", "See the failed seats and their likely causes."},
    {"report.measure-the-rest", "Measure what is missing or undecided."},
    {"report.stopped", "Not known: an error of the program."},
    {"report.not-known-yet", "Not known yet."},

    // held_words.cpp
    {"report.setup-held", "Setup {names}"},
    {"report.setups-held", "Setups {names}"},
    {"report.setup-of", "setup {setup}"},
    {"report.head-of", "head {head}"},
    {"report.held", "{who}: {reason}"},
    {"report.what-frees", "{held} What frees it: {frees}"},

    // stood_by.cpp, let_pass.cpp
    {"report.right-as-read", "{what} of {valve}: right as read"},
    {"report.kept-by-word", "touch of {valve}: kept, the machinist stands by it"},
    {"report.said-by", "{what} ({who})"},
    {"report.a-touch", "touch"},
    {"report.a-level", "level"},
    {"report.bore-of-guide", "bore of guide"},
    {"report.seat-before", "seat before cutting"},
    {"report.first-seat", "first seat"},
    {"report.seat-after", "seat after cutting"},
    {"report.let-pass", "{what}: {why} ({by})"},
    {"report.no-reason", "no reason given"},
    {"report.nobody-named", "nobody named"},

    // two_ways.cpp
    {"report.way-shifted",
     "Shifted (depths as planned, Z moved alone): all depths {total}, {deeper} deeper in total; {breaks}"},
    {"report.way-anew",
     "Anew (depths made around what is cut): all depths {total}, {deeper} deeper in total; {breaks}"},
    {"report.every-limit-kept", "every limit kept"},
    {"report.not-chosen", "Not chosen yet: the files of these seats wait for it"},
    {"report.chosen-shifted", "Chosen: shifted"},
    {"report.chosen-anew", "Chosen: anew"},

    // text_hold.cpp, text_find.cpp, text_cut.cpp
    {"report.set-posts", "set {span} apart with a tape before the head is lifted"},
    {"report.row-true", "the row runs true within {move}: no post need be moved"},
    {"report.shift-post", "to run the row true, shift post {post} by {by}{way} of the readout"},
    {"report.towards", " towards {way}"},
    {"report.along-both", ": X {x} Y {y}"},
    {"report.map-from-datum", "nothing touched: the map from the datum guide, taken as zeroed"},
    {"report.least-chance", "least chance of entering {chance}{then}"},
    {"report.chance-not-known",
     "chance of entering not known for every guide (pilot or mouth missing){then}"},
    {"report.that-is-enough", "; that is enough"},
    {"report.touch-next", "; touch {guide} next, {more} more in all"},
    {"report.touch-though", "; touch {guide} next, though no number of touches reaches the target"},
    {"report.looks-alike", "this layout looks the same {ways}"},
    {"report.every-pilot-enters", "every pilot enters with chance {head}; the worst guide {worst}"},
    {"report.post-clearance", "post clearance of {clearance} would make it 99.9 %"},
    {"report.or-mouths", "or mouths of {mouth}"},
    {"report.found-by-touches",
     "positions found by touches on head {head}; clear height Z {clear}; move sideways only there, lower "
     "nothing by a rapid"},
    {"report.of-the-map",
     "positions of the map, no guide touched; clear height Z {clear}; move sideways only there, lower "
     "nothing by a rapid"},

    {"report.changed-on-the-way", "{times} changed on the way, {path} from seat to seat: {proof}"},
    {"report.not-changed", "not"},
    {"report.changed-once", "once"},
    {"report.changed-times", "{times} times"},
    {"report.no-order-shorter", "no order is shorter"},
    {"report.longer-than-shortest", "at most {gap} longer than the shortest"},

    // text_prove.cpp
    {"report.no-seat-after", "No seat has a reading after cutting."},
    {"report.stem-spread",
     "head {head}: stem heights of {kind} seats are {apart} apart, {lowest} lowest, {highest} highest, at "
     "most {allowed}: {verdict}"},
    {"report.not-judged",
     "Limits of the job that no reading after cutting was held against here: {limits}. Nothing is claimed "
     "of them."},
    {"report.vacuum-caution",
     "A vacuum is a hint only and outweighs no runout: grease or oil lets a bad seat hold; dust, carbon, a "
     "leaking guide seal or plug makes a good one lose it (common practice)"},

    // laid_over.cpp
    {"report.as-declared", "as declared"},
    {"report.end-for-end", "end for end"},
    {"report.mirrored", "mirrored"},
    {"report.mirrored-end-for-end", "mirrored end for end"},
    {"report.laid-over",
     "The other lies on this one {way}, by {holes} bolt holes: they differ by {rms} rms, {worst} at most."},
    {"report.guides-decide", "The bolt holes fit other ways as well; the guides decide."},
    {"report.fits-as-well", "It fits {ways} as well: look which end is which."},
    {"report.turned-by", "Turned by {yaw} deg; its origin comes to lie at {x}, {y}.",
     "Turned by {yaw}°; its origin comes to lie at {x}, {y}."},
    {"report.holes-alone", "Holes without a partner: {here} here, {there} there."},
    {"report.guides-alone", "Guides without a partner: {guides}."},

    // forecast_words.cpp
    {"report.pass-rate-unknown", "How many heads will be good is not known."},
    {"report.will-be-good", "Of {heads} {heads:head|heads} {rate} will be good{between} ({within})."},
    {"report.between-for-the-shop", "; with what is not known of the shop, {low} to {high}"},
    {"report.drawn-within", "drawn to {error}"},
    {"report.drawn-better", "drawn to better than {error}"},
    {"report.computed-within", "computed to {error}"},
    {"report.computed-better", "computed to better than {error}"},
    {"report.as-measured", "As measured: pass {pass}, fail {fail}, undecided {undecided}."},
    {"report.gauge-not-known", "As measured: not known, a gauge is not known."},
    {"report.risk",
     "Risk: a bad head passed {passed}, a good one not passed {not_passed}, of these failed {failed}."},
    {"report.change-blade", "Change the blade before head {head}."},
    {"report.touched-on-every", "Touched on every head: {guides}."},
    {"report.level-of-head", "level of the head"},
    {"report.once-of-shelf", "once, of the shelf"},
    {"report.once-min", "once {min} min"},
    {"report.each-head", "{seconds} s a head"},
    {"report.and-amount", "{time}, {amount} {currency} the batch"},
    {"report.nothing-brings", "Nothing the shop could change brings more good heads that are worth telling."},
    {"report.helps-most",
     "What helps most: {what} {to} instead of {from}. {good} of heads are then good, now {now}."},
    {"report.helps-most-costs",
     "What helps most: {what} {to} instead of {from}. {good} of heads are then good, now {now}. It costs "
     "{cost}."},
});

template <Word Id, Word... Names>
Sentence sentence(Given<Names>... given) {
    return words::made<english_table, Id>(std::move(given)...);
}

}  // namespace seatwright::report
