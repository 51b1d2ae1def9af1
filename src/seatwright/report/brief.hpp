// The job in five lines: one answer a stage, its state, and what to do next. The same lines head the terminal
// plan, the setup sheet and the side of the workbench.
#pragma once

#include <string>
#include <vector>

#include "seatwright/plan/failure.hpp"
#include "seatwright/plan/plan.hpp"
#include "seatwright/report/report.hpp"

namespace seatwright::report {

enum class StageState {
    open,       // nothing to answer with yet
    ready,      // answered; the next step is the person's
    needs_you,  // a blocking warning stands
    done        // answered and nothing is left to do
};

struct StageLine {
    std::string stage;  // "hold"
    StageState state = StageState::open;
    std::string answer;  // "Tilt 19.50°, posts 17.56 in apart"
    std::string next;    // "Touch guide 4E."; of what is held back why it is
    std::string frees;   // what would free that; empty: nothing is held back, or its sentence says all
};

// What to do next in one sentence, as a terminal and paper have it.
std::string whole_next(const StageLine& line, const Speech& speech);

const char* name_of(StageState state);  // "open", "ready", "needs you", "done"

// hold, find, shape, cut, prove in order; `head` picks the head that find speaks of (empty = the last on
// record).
std::vector<StageLine> brief(const job::Job& job, const plan::Plan& plan, const prove::Proof& proof,
                             const Speech& speech, const std::string& head = {});

// Those of stages that an error of the program stopped need you, and say so.
void say_stopped(std::vector<StageLine>& lines, const std::vector<plan::Failure>& failures,
                 const Speech& speech);

// Title, warnings, one line a stage, and what is next, for a terminal.
std::string text_of(const job::Job& job, const std::vector<StageLine>& lines, const Notices& notices,
                    const TextStyle& style);

}  // namespace seatwright::report
