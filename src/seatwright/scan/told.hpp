// What is said of a scan beside its figures: what was expected and is not seen, warnings, assumptions.
#pragma once

#include "seatwright/scan/head.hpp"

namespace seatwright::scan {

void tell(const Found& found, const Told& told, const Head& head, double longest, Scan& out);

}  // namespace seatwright::scan
