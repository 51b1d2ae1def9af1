// What the head will cost at the shop's rates, before anything else is found.
#pragma once

#include <optional>

#include "seatwright/cut/cut.hpp"

namespace seatwright::cut {

// None when the shop has no rates. Counts: one head, the valves whose seats are cut or get an insert, the
// guides sent to repair, the inserts.
std::optional<Estimate> estimate_of(const job::Job& job, const find::Find& find, const shape::Shape& shape);

}  // namespace seatwright::cut
