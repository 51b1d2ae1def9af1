// Which files a plan comes to, and what each of them does.
//
// machine.zero = program: one file for each cutter in each setup; where pilots are planted one for each
// planting, and where a pilot change takes the cutter off the spindle one for each pilot. offsets: one for
// each setup. The first seat of a cutter is cut short, and the file ends (or halts, with the trim made at the
// control) for it to be measured; the second file is made once its reading is there. The touched seat is cut
// last.
#pragma once

#include <vector>

#include "seatwright/cut/forms.hpp"
#include "seatwright/cut/sequence.hpp"

namespace seatwright::cut {

struct PlannedFile {
    Route route;
    std::string name;  // without its ending
};

struct PlannedFiles {
    std::vector<PlannedFile> files;  // in the order they are run
    std::vector<Route> routes;     // the same as if no seat were measured on the way: for card, map, drawings
    std::vector<ReadyForm> forms;  // what they are made from
    // One for each of SeatPlan::seats: its stop as its own cutter's program writes it (machine.z_sign, trim
    // included), held back or not; none where Z zero cannot be taken.
    std::vector<std::optional<double>> program_z;
    std::vector<Warning> warnings;
};

// What cannot be written goes to the gate. A draft has what the gate holds, too.
PlannedFiles plan_files(const Known& known, const SeatPlan& plan, const Sequence& sequence,
                        const job::Selection& selection, Gate& gate);

// As job/file_names.hpp has it, long or short. `turn`: from 0, of several files of one cutter.
std::string file_name(const job::Job& job, const Route& route, const std::string& setup, int turn);

// Of the newest reading of that head that carries one, as written; empty: none does.
std::string newest_date(const job::Job& job, const std::string& head);

}  // namespace seatwright::cut
