// One deep seat that sinks the others: what its spread costs them, against one insert.
#pragma once

#include <optional>

#include "seatwright/base/units.hpp"
#include "seatwright/shape/depth_plan.hpp"

namespace seatwright::shape {

struct DeepSeat {
    std::size_t seat = 0;    // of the problem: the one an insert would be fitted in
    std::size_t others = 0;  // seats cut deeper for its sake
    double deeper = 0;       // by so much in total
    double total = 0;        // of all depths as planned
    double total_with_insert = 0;
};

// The seat whose insert would spare the others most, if it spares two or more of them `least_worth_saying` in
// total. Looked for among the highest stem of each kind and the deepest seats; two or three plans more.
std::optional<DeepSeat> deep_seat_of(const DepthProblem& problem, const DepthOutcome& planned);

// mm: less than this in total and nobody fits an insert for it.
inline constexpr double least_worth_saying = 0.1;

// Both ways, in words.
Warning deep_seat_warning(const DepthProblem& problem, const DeepSeat& deep);

}  // namespace seatwright::shape
