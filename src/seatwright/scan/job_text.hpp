// The job file made of a scan: what is seen with its uncertainty as a comment; what is open is made up,
// stands in head.assumed with the question beside it, and hold stops at it.
#pragma once

#include <optional>
#include <string>

#include "seatwright/drawing/job_text.hpp"
#include "seatwright/scan/scan.hpp"

namespace seatwright::scan {

using drawing::Beside;

// Reads without faults (with that shop), in the file's unit. None if no guide's axis is known: a job has at
// least one valve.
std::optional<std::string> job_text(const Scan& scan, const Beside& beside = {});

}  // namespace seatwright::scan
