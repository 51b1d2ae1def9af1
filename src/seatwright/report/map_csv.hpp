// The map of one setup as comma-separated values for other programs: one row a valve, head order.
//
// Columns: order (as cut, empty if not), valve, kind, x_mm, y_mm, z_mm (the map, readout signs), then what
// the program uses: program_x_mm, program_y_mm, program_z_mm, positions ("map" or "found"), cutter,
// blade_setting_mm, rpm, feed_mm_per_turn, dwell_turns. A job in inches gets x_in … program_z_in as well.
#pragma once

#include <string>

#include "seatwright/plan/plan.hpp"

namespace seatwright::report {

std::string map_csv(const job::Job& job, const hold::Setup& setup, const cut::Cut& cut);

}  // namespace seatwright::report
