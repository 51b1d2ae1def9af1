// The walk of one head at the machine, step by step: load, touch, and for each cutter of each setup its first
// file, Z0, the first seat's reading, its second file, cut; then the next setup; measured; finished. One list
// for the screen and the work card. Steps that do not apply are not in it: of a control typed by hand no file
// is taken, without a first seat measured on the way there is one file, lengths kept in the control have one
// Z0 for a setup.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/plan/plan.hpp"

namespace seatwright::plan {

struct WalkStep {
    enum class Kind { load, touch, held, take, zero, first, cut, measure, finished } kind = Kind::load;
    std::string id{};     // of the step on this head, "take A 1 first"; the same while the plan changes
    std::string run{};    // "A 1": the steps of one cutter in one setup; empty: of none
    std::string setup{};  // id; empty: of the whole head
    Sentence words{};     // what is to be done
    Sentence against{};   // of `finished` instead, where not every seat passes
    Sentence mark{};      // the same in a word or two
    bool begins = false;  // the first step of a setup or of a cutter
    bool done = false;    // by what was read of this head; what a person said is not known here
    std::string file{};   // to be taken; empty: none, or not written yet
    std::string moves{};  // print of what that file does, comments left out
    std::vector<std::size_t>
        valves{};                     // indices into job.head.valves: cut or measured in this step, in order
    std::optional<std::size_t> on{};  // whose seat Z0 is taken on
    std::vector<Sentence> ways{};     // how Z0 is taken, a sentence each
};

std::string word_of(WalkStep::Kind kind);  // "load", "held", …

// Of the head that was planned, all its seats; results that are not there leave their steps out.
std::vector<WalkStep> walk_of(const job::Job& job, const Plan& plan, const std::string& head);

}  // namespace seatwright::plan
