// The pipeline: the stages in order, each given what came before, and everything they had to say.
#pragma once

#include <optional>
#include <string>

#include "seatwright/cut/cut.hpp"
#include "seatwright/prove/prove.hpp"

namespace seatwright::plan {

// Everything from hold to cut for one job; `head` says whose readings shape and cut use.
struct Plan {
    job::Selection selection;
    std::string asked_head;  // as given to make_plan; empty = none in particular
    Notices given;           // what the job left to defaults
    hold::Hold hold;
    find::Find find;
    shape::Shape shape;
    cut::Cut cut;

    Notices notices() const;  // what was given, then all stages in order
};

// The head whose readings shape and cut use: `asked`, or if that is empty the last head with readings of a
// seat before cutting, else the first on record.
std::string head_to_shape(const job::Job& job, const std::string& asked);

// Runs hold, find, shape and cut; `head` as in head_to_shape, and whose level readings hold uses.
Plan make_plan(const job::Job& job, const std::string& head = {}, const job::Selection& selection = {});

// Puts each seat's stop in its own program, which cut knows, where shape's papers show it.
void show_programs(Plan& plan);

// True when a warning or something held back says the plan cannot be carried out as asked.
bool blocked(const Notices& notices);

}  // namespace seatwright::plan
