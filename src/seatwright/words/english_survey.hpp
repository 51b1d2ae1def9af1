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
    {"survey.set-aside", "line {line}, {key}: {what} is not used: {why}"},
    {"survey.head-height",
     "line {line}, {key}: the valve head of {valve} says nothing of its seat: head_height (the middle of its "
     "head over its gauge plane) is missing"},
    {"survey.seat-angle",
     "line {line}, {key}: the ball on the seat of {seat} says nothing: angle (of the seat's face) is "
     "missing"},
    {"survey.open", "the readings leave figures of {figures} open; what is listed as missing closes them"},
    {"survey.readouts-read-to", "assumes that readouts without sd are read to {sd} (common practice)"},
    {"survey.sensor-reads-to", "assumes that the sensor reads to {sd} (common practice)"},
    {"survey.zero-on-deck",
     "assumes that the sensor reads 0 on the deck, as sensor.zero says: no reading shows it"},
    {"survey.stood-plumb",
     "assumes that {guides} stood plumb to {within} when the pilot was over it: no level reading of it is "
     "used (common practice)"},
    {"survey.not-moved",
     "assumes that the head was not moved on its fixture between setups and that the fixture turns without "
     "play"},
    {"survey.turned-end-for-end",
     "assumes that the head lies turned end for end on the table, since the cylinders are numbered against "
     "the readout's X; if the readout counts the other way write x_sign = -1 under [readout]"},
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
    {"survey.cylinders-repeat", "cylinders repeat every {spacing} to {residual}"},
    {"survey.guides-in-row", "guides {letters} stand in a row at y {y} to {residual}"},
    {"survey.valves-alike",
     "valves {letters} are alike: z {z} to {z_within}, incline {incline} to {incline_within}, cant {cant} to "
     "{cant_within}"},
    {"survey.holes-in-row", "{count} holes stand in a row at y {y} to {residual}"},
    {"survey.holes-every", "{count} holes stand every {step} to {residual}"},
});

template <Word Id, Word... Names>
Sentence sentence(Given<Names>... given) {
    return words::made<english_table, Id>(std::move(given)...);
}

}  // namespace seatwright::survey
