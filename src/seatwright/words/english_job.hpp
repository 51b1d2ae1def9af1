// English, what job says.
#pragma once

#include <array>

#include "seatwright/words/sentence.hpp"

namespace seatwright::job {

inline constexpr auto english_table = std::to_array<words::Line>({
    {"job.intake", "intake"},
    {"job.exhaust", "exhaust"},

    // key_names.cpp
    {"job.key-named", "{label}"},
    {"job.key-of-kind", "{label} ({kind})"},
    {"job.key-of-valve", "{label} of {valve}"},
    {"job.key-of-reading", "{label} of {valve} ({table}, head {head})"},

    // needs.cpp: behind the key that lacks it
    {"job.lacks", "{key} {what}"},
    {"job.needs-valve", "is missing; wanted to shape a seat: the valve's head_diameter",
     "is missing; it is needed to shape a seat: the valve's head_diameter"},
    {"job.needs-form", "is missing; wanted to shape a seat: angle, width, and inset or contact_diameter",
     "is missing; it is needed to shape a seat: angle, width, and inset or contact_diameter"},
    {"job.needs-angle", "is missing; wanted to shape a seat: the angle of its face",
     "is missing; it is needed to shape a seat: the angle of its face"},
    {"job.needs-width", "is missing; wanted to shape a seat: its width along the cone",
     "is missing; it is needed to shape a seat: its width along the cone"},
    {"job.needs-inset", "is missing; wanted to shape a seat: inset or contact_diameter",
     "is missing; it is needed to shape a seat: inset or contact_diameter"},
    {"job.needs-material", "is missing; wanted to cut: the name of a [[material]], here or as head.material",
     "is missing; it is needed to cut: the name of a material, here or as head material"},
    {"job.needs-fixture", "is missing; wanted to hold the head: tilt, swing and plumb_limit of a fixture",
     "is missing; it is needed to hold the head: tilt, swing and plumb_limit of a fixture"},
    {"job.needs-fastest", "is missing; wanted to choose a spindle speed: the machine's fastest",
     "is missing; it is needed to choose a spindle speed: the machine's fastest"},
    {"job.not-on-shelf", "\"{name}\" is not on the shelf; there: {shelf}"},
    {"job.not-on-shelf-meant", "\"{name}\" is not on the shelf, did you mean \"{meant}\"?; there: {shelf}"},
    {"job.not-on-empty-shelf", "\"{name}\" is not on the shelf; there: none"},
    {"job.material-lacks", "\"{name}\" lacks what cutting it needs: {gaps}"},

    // What cannot be is asked about.
    {"job.cannot-be",
     "The figure {key} = {value}{line} cannot be right: {what} lies between {low} and {high}.{fit}"},
    {"job.cannot-be-line", " (line {line})"},
    {"job.would-fit", " {number} would fit as {unit}."},
    {"job.doubts-more", " {count} more {count:figure is|figures are} asked about after this."},
    {"job.doubts-settle", "settle what is asked about first"},
    {"job.doubt", "{doubt} Correct it, or {sure}.{more}"},
    {"job.doubt-frees", "correct it, or {sure}"},
    {"job.sure-reading", "write sure = true in that reading if it is right",
     "somebody says that it is right"},
    {"job.sure-key", "write sure = [\"{entry}\"] if it is right", "somebody says that it is right"},
    {"job.sure-entry", "{key} = {value}"},
    {"job.sure-beside", "sure = true"},
    {"job.leans-otherwise-kind", "otherwise than most of its kind"},
    {"job.whole-file-inch", "inches"},
    {"job.whole-file-mm", "mm"},
    {"job.place-top", "top"},
    {"job.place-middle", "middle"},
    {"job.place-bottom", "bottom"},

    // place_doubts.cpp
    {"job.above-deck",
     "The seat{seats:|s} of {seats} lie{seats:s|} {z} above the deck; z counts out of the deck, so a seat in "
     "its chamber has a z below 0."},
    {"job.far-from-kind", "The seat of {seats} lies at {z}, far from the others of its kind at {others}."},
    {"job.kinds-apart", "The {kind} seats lie at {z}, far from the {other} seats at {others}."},
    {"job.leans-otherwise",
     "The guide of {seats} leans {lean}, {than}. Is its sign wrong? An incline is positive where the guide's "
     "upper end, out of the chamber, leans towards +Y."},
    {"job.leans-otherwise-in-row", "that of {other} in the same row to the other side"},
    {"job.guides-cross",
     "The guides of {a} and {b} cross inside the casting (inclines {a_incline} and {b_incline} deg, cants "
     "{a_cant} and {b_cant} deg). Is the sign of one row wrong? An incline is positive where the guide's "
     "upper end, out of the chamber, leans towards +Y.",
     "The guides of {a} and {b} cross inside the casting (inclines {a_incline} and {b_incline}°, cants "
     "{a_cant} and {b_cant}°). Is the sign of one row wrong? An incline is positive where the guide's upper "
     "end, out of the chamber, leans towards +Y."},

    // repeated.cpp
    {"job.read-twice",
     "{key} stands twice, as {first} and then as {last}; the last one would count. Remove the wrong one."},
    // build_rules.cpp
    {"job.find-assumed", "assumes {key} = {value} (common practice): the job does not give it"},

    // doubts.cpp
    {"job.whole-file",
     "The whole file reads as if its lengths were in {other}, but it says units = \"{now}\": {count} of them "
     "cannot be in {own} and would fit in {other}."},
    {"job.material-feed",
     "Material \"{material}\" is fed {feed} a turn: seats are cut with {low} to {high}. A bare figure is in "
     "the file's unit; write \"0.02 mm\"."},
    {"job.guide-short",
     "The {kind} guide is {length} long with a bore of {bore}: a guide is longer than two bores."},
    {"job.stem-bore",
     "The {kind} stem of {stem} does not go with its guide's bore of {bore}: they differ by more than "
     "{most}."},
    {"job.no-pilot-near",
     "No pilot of the shelf is near the {kind} guide's bore of {bore}: the nearest, \"{pilot}\", has {has}. "
     "Is the bore right?"},
    {"job.guide-read",
     "Guide {guide} of head {head} is read {read} at the {place}, but its drawing bore is {drawn}: they "
     "differ by more than {most}."},
    {"job.face-angle",
     "The {kind} valve's face of {face} cannot seal on a seat of {seat}: face and seat are ground alike or "
     "about a degree apart."},
    {"job.answer-not-asked",
     "{key} = {value} was said to be right, but the job made of these answers asks about no such figure: "
     "answer it again."},
    {"job.doubts-waiting",
     "{count} more figure{count: is|s are} asked about once those asked about are settled."},
});

template <Word Id, Word... Names>
Sentence sentence(Given<Names>... given) {
    return words::made<english_table, Id>(std::move(given)...);
}

}  // namespace seatwright::job
