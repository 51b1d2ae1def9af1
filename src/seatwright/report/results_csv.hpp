// Measurement results for other programs: a plain table (RFC 4180), documented in docs/prove-results.md.
#pragma once

#include <string>

#include "seatwright/prove/prove.hpp"

namespace seatwright::report {

// One line for each characteristic of each seat, for each spread judged, and for each seat that was not
// measured. Lengths mm, vacuum kPa, always; a decimal point; an empty field where nothing is known.
std::string results_csv(const job::Job& job, const prove::Proof& proof);

}  // namespace seatwright::report
