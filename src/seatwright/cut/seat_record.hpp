// What a head's readings say of one seat after it was cut, and what follows for Z0 (restart.hpp).
//
// Heights s along the guide, 0 = as drawn, up positive; lengths mm.
#pragma once

#include <optional>
#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "seatwright/cut/restart.hpp"
#include "seatwright/shape/zero_task.hpp"

namespace seatwright::cut {

// The seat as its plan has it.
struct SeatPlanned {
    std::size_t valve = 0;
    std::optional<double> old;   // s of the old seat, −ρ
    std::optional<double> stop;  // s of the finished one
    double depth = 0;
};

struct SeatRecord {
    bool cut = false;                // a reading after cutting, or of the first seat, is there
    bool first_only = false;         // no more than that of the first seat
    bool good = false;               // the readings after cutting lie within their limits
    std::optional<double> finished;  // s as measured; none: not measured, or not good
    int rank = 0;                    // the larger, the later in the job's readings; 0 = none
};
SeatRecord record_of(const job::Job& job, const std::string& head, const SeatPlanned& seat);

// The task of the new blade: Z0 on the seat `restart` names, or why there is none (zero-void). A seat that
// the task names itself is touched where it is left and its height is known.
tl::expected<shape::ZeroTask, HeldBack> restarted(shape::ZeroTask task, const Restart& restart);

}  // namespace seatwright::cut
