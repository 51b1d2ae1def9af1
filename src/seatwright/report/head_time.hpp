// What the minutes of a head are of: every seat planned, those too that stand in no file now.
#pragma once

#include "seatwright/cut/cut.hpp"

namespace seatwright::report {

struct HeadTime {
    std::size_t in_files = 0, in_no_file = 0;             // seats
    double in_files_seconds = 0, in_no_file_seconds = 0;  // of them
};
HeadTime head_time(const cut::Cut& cut);

}  // namespace seatwright::report
