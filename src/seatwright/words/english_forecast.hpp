// English, what forecast says.
#pragma once

#include <array>

#include "seatwright/words/sentence.hpp"

namespace seatwright::forecast {

inline constexpr auto english_table = std::to_array<words::Line>({
    {"forecast.runout-gauge", "runout (forecast.gauge_u)", "runout (runout gauge, u)"},
    {"forecast.width-gauge", "width (forecast.width_gauge_u)", "width (width gauge, u)"},
    {"forecast.height-gauge", "stem height (forecast.height_gauge_u)", "stem height (height gauge, u)"},

    // known.cpp
    {"forecast.posts-not-known",
     "bolt holes or the posts' diameter are not given: how the head's place differs from head to head is a "
     "guess of common practice (0.3 mm of clearance). Give head.bolt_holes, head.bolt_hole_diameter and "
     "fixture.post_diameter.",
     "bolt holes or the posts' diameter are not given: how the head's place differs from head to head is a "
     "guess of common practice (0.3 mm of clearance). Give bolt holes, bolt hole and post."},
    {"forecast.many-touched",
     "assumes that the programmed places come from many touched heads: none is on record, and with n of them "
     "the scatter of place and yaw is 1 + 1/n times as large (as a variance)."},
    {"forecast.no-height-reading",
     "takes no forecast.height_sd: a plan to a finished height needs no reading of the old seat.",
     "takes no old height, sd: a plan to a finished height needs no reading of the old seat."},
    {"forecast.trimmed-on-first",
     "assumes that every cutter is trimmed on its first seat (cut.first_stop): what is left of the zero's "
     "error is that seat's own depth error and the gauge's.",
     "assumes that every cutter is trimmed on its first seat (first stop): what is left of the zero's error "
     "is that seat's own depth error and the gauge's."},
    {"forecast.zero-sd-left",
     "takes forecast.zero_sd as what is left of the Z zero's error when the seats are cut, trimmed on a "
     "first seat or not.",
     "takes z zero, sd as what is left of the Z zero's error when the seats are cut, trimmed on a first "
     "seat or not."},
    {"forecast.float-freed",
     "assumes that the tool head, freed by command while the pilot enters (machine.float), floats without "
     "any stiffness of its own, and bends no pilot.",
     "assumes that the tool head, freed by command while the pilot enters (float), floats without any "
     "stiffness of its own, and bends no pilot."},
    {"forecast.floats-freely",
     "assumes that the tool head floats freely: machine.float_stiffness is not given.",
     "assumes that the tool head floats freely: float stiffness is not given."},

    {"forecast.coarsest-gauge",
     "assumes {gauge}, the coarsest gauge of the shelf that reads {what}, for verdicts and risks: no reading "
     "says yet which one it will be."},
    {"forecast.gauge-overdue",
     "{what} is judged with {gauge}, whose calibration held until {until} only: what is said of verdicts and "
     "risks is not known to hold. Have it calibrated, or name another gauge."},

    // seats.cpp
    {"forecast.seat-left-out", "has no seat or valve form and is no part of the forecast"},

    // forecast.cpp
    {"forecast.guide-directions",
     "takes from the runouts on record what the other causes do not explain of them as the guides' own "
     "directions."},
    {"forecast.gauge-not-known",
     "verdicts and risks are not known: no uncertainty is given of the gauge for {what}, nor a [[gauge]] of "
     "the shelf that reads it",
     "verdicts and risks are not known: no uncertainty is given of the gauge for {what}, nor a gauge of the "
     "shelf that reads it"},
    {"forecast.touches-beyond",
     "no setup has as many guides as are to be touched (forecast.touches = {touches}, at most {most}): every "
     "guide is taken to be touched.",
     "no setup has as many guides as are to be touched (guides touched = {touches}, at most {most}): every "
     "guide is taken to be touched."},
    {"forecast.no-limit", "a head is good whatever these would ask, since they are not given: {keys}"},
    {"forecast.entry-not-known",
     "whether pilots enter is not known and they are taken to, no pilot of the shelf suits or the guide's "
     "mouth is not given: {valves}"},
    {"forecast.independent",
     "assumes errors independent of each other and normal; play even over its disc and a pilot's runout of "
     "fixed length in any direction, anew at every seat."},
    {"forecast.no-seats", "no seat of the head has a form and a setup: nothing can be said of a batch"},
    {"forecast.nothing-to-judge",
     "the pass rate is not known: the job gives no limit of runout, width, stem height or spread, and no "
     "mouth for the pilots to enter"},
});

template <Word Id, Word... Names>
Sentence sentence(Given<Names>... given) {
    return words::made<english_table, Id>(std::move(given)...);
}

}  // namespace seatwright::forecast
