// The figures of a job file held against the table of ranges (job/ranges.hpp) while it is still known how
// each was written.
#pragma once

#include <string>
#include <vector>

#include "seatwright/base/units.hpp"
#include "seatwright/job/ranges.hpp"
#include "seatwright/job/value.hpp"

namespace seatwright::job {

// A figure that cannot be, as far as the table knows, and that nobody confirmed beside it.
struct OddFigure {
    const Plausible* range = nullptr;
    std::string key;    // entries by what they are of: "head.valve.1I.x", "reading.touch.6.4I.x"
    std::string head;   // of a reading; else empty
    std::string valve;  // it concerns, if one
    double value = 0;   // memory units
    std::string typed;  // as written: "383.012", "500 inHg"
    int line = 0;
};

// Bare lengths of head, valves and guides that can be in one unit of the two alone.
struct UnitsRead {
    int as_written = 0;     // in the file's unit only
    int in_other_unit = 0;  // in the other unit only
    // The file as a whole reads as if it were written in the other unit: several figures that cannot be as
    // they stand would be right there, and few that are right would not.
    bool whole_file_reads_other() const { return in_other_unit >= 3 && in_other_unit > 3 * as_written; }
};

struct Figures {
    std::vector<OddFigure> odd;
    UnitsRead units;
    LengthUnit file_units = LengthUnit::mm;  // of the file's bare lengths
};

// Of a job file's checked entries; `units` is that of its bare lengths.
Figures figures_of(const Value& root, LengthUnit units);

}  // namespace seatwright::job
