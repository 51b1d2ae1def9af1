// Whether two readings of old seats' heights say the same: recession (or below_deck) against stem height.
#pragma once

#include <vector>

#include "seatwright/shape/before.hpp"

namespace seatwright::shape {

// One note for each seat whose two readings differ from those of its kind: (ρ_v − mean ρ) against (h_v − mean
// h), so that neither a drawing value nor a skim of the deck enters. Only where the stem heights were made
// with one valve, a setting valve; more than 2·√(u² + u²) apart. Means of the seats that have both, two at
// least.
std::vector<Warning> heights_that_differ(const job::Job& job, const std::vector<Before>& readings);

}  // namespace seatwright::shape
