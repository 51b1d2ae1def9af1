// The first seat of one cutter in one setup: which it is, whether the program stops after it, and what its
// reading asks of the files still to be made (first_seat.hpp).
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/cut/first_seat.hpp"
#include "seatwright/shape/zero_task.hpp"
#include "seatwright/words/held_back.hpp"

namespace seatwright::cut {

// One seat of the cutter's, as planned.
struct FormSeat {
    std::size_t valve = 0;
    double stop = 0;                    // s
    double depth = 0;                   // d; what it may be at the most where the old seat was not read
    double u = 0;                       // U of its Z
    std::optional<double> most_depth;   // its limit
    std::optional<double> least_depth;  // what it needs to clean up; none in a plan to one height
    // How much deeper that is than in the plan its form's first file was made from.
    double since_first = 0;
    bool begun = false;       // a blade broke here: it may be deeper than any stop
    bool depth_known = true;  // else the old seat was not read, and d is the most it may be
};

struct FirstInForm {
    std::size_t place = 0;  // in the seats given
    double short_by = 0;    // above its plan at first; 0: no stop after it
    bool stops = true;      // the file ends (or halts) after it
    std::optional<FirstMeasured> measured;
    std::optional<Trim> trim;  // once it is read
    // Nothing more with this Z0: trim-large, zero-void; doubt (another seat was to be first, or the figure is
    // that of the seat finished); missing (the file that cut it had another plan).
    std::optional<HeldBack> held;
    std::optional<Sentence> other;  // a sentence: the seat read is not the one the first file cuts
    // A sentence: within what the gauge tells, so that no stop moves, the seat read would end past its limit.
    std::optional<Sentence> past_limit;
    std::optional<Sentence> twice;     // a sentence: read twice and otherwise; the last counts
    std::optional<Sentence> stop_why;  // first_stop = false was asked for and is not allowed
};

// `seats` in cutting order, at least one. Readings of first seats that are not among them belong to another
// blade: their trim is void. So does the one reading of a seat begun; a second one is the new blade's. A seat
// begun is not measured first where there is another. A reading of the seat Z0 is taken on, where another was
// to be first, says that Z0 can no longer be checked there: zero-void.
FirstInForm first_in_form(const job::Job& job, const std::string& head, const std::string& setup,
                          const shape::Zero& zero, const std::vector<FormSeat>& seats);

}  // namespace seatwright::cut
