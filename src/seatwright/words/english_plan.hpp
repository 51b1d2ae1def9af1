// English, what plan says.
#pragma once

#include <array>

#include "seatwright/words/sentence.hpp"

namespace seatwright::plan {

inline constexpr auto english_table = std::to_array<words::Line>({

    // failure.cpp
    {"plan.program-error",
     "An error of the program itself stopped {stage}: nothing of it is known, and what needs it waits. The "
     "other stages stand. Please report it."},

    {"plan.stopped-by-error", "an error of the program itself stopped {stage}"},

    // run.cpp
    {"plan.comes-first", "{stage} comes first"},

    // walk.cpp
    {"plan.turn", "tilt {tilt}"},
    {"plan.turn-both", "tilt {tilt}, swing {swing}"},
    {"plan.load", "Load head {head} and set {turn}."},
    {"plan.load-setup", "Load head {head} and set setup {setup}: {turn}."},
    {"plan.turn-back", "Head {head} is touched in all setups. Turn back to setup {setup}: {turn}."},
    {"plan.turn-to", "Setup {before} is done. Turn to setup {setup}: {turn}."},
    {"plan.touch", "Touch the guides."},
    {"plan.touch-setup", "Touch the guides of setup {setup}."},
    {"plan.no-file", "No file of setup {setup} can be written yet."},
    {"plan.no-file-of", "No file of {cutter}, setup {setup}, can be written yet."},
    {"plan.cutter", "cutter {cutter}"},
    {"plan.all-cutters", "the cutters"},
    {"plan.of-head", "head {head}"},
    {"plan.of-head-setup", "head {head}, setup {setup}"},
    {"plan.take", "Take the file of {cutter}, {where}."},
    {"plan.take-first", "Take the first file of {cutter}, {where}."},
    {"plan.take-second", "Take the second file of {cutter}, {where}."},
    {"plan.change-take", "Change to {cutter} and take its file, {where}."},
    {"plan.change-take-first", "Change to {cutter} and take its first file, {where}."},
    {"plan.zero-taken", "Z0 of {cutter}: is it taken?"},
    {"plan.change-zero", "Change to {cutter}. Is its Z0 taken?"},
    {"plan.first-of", "First seat {valve}: type its reading."},
    {"plan.first", "First seat: type its reading."},
    {"plan.cut", "Cut with {cutter}: {seats}."},
    {"plan.measure", "Measure every seat."},
    {"plan.finished", "Head {head} is finished."},
    {"plan.finished-against", "Head {head} is finished, but not every seat passes."},
    {"plan.mark-load", "load"},
    {"plan.mark-load-setup", "load {setup}"},
    {"plan.mark-back", "back to {setup}"},
    {"plan.mark-touch", "touch"},
    {"plan.mark-held", "held back"},
    {"plan.mark-file", "file"},
    {"plan.mark-zero", "Z0"},
    {"plan.mark-first", "first seat"},
    {"plan.mark-cut", "cut"},
    {"plan.mark-measure", "measure"},
    {"plan.mark-finished", "finished"},
});

template <Word Id, Word... Names>
Sentence sentence(seatwright::Given<Names>... given) {
    return words::made<english_table, Id>(std::move(given)...);
}

}  // namespace seatwright::plan
