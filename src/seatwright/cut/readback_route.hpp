// The route itself held against what head, touches and readings allow, before a line of its program is looked
// at.
#pragma once

#include <string>
#include <vector>

#include "seatwright/cut/expect.hpp"

namespace seatwright::cut {

// What is wrong with the route's seats as a set: places, heights, zeros, trim, order, travel; empty: nothing.
std::string fault_of_route(const job::Job& job, const Route& route, const Expected& expected);

// What is wrong between the files of one plan, in the order they are run, as a sentence part: a seat that two
// would cut to its stop, a Z0 taken on an old seat that a file before has cut; empty: nothing.
std::string fault_of_files(const job::Job& job, const std::vector<const Route*>& routes);

// For each stop the least height at which its tool's lowest point stands clear of what it is to meet.
std::vector<double> heights_over_mouth(const job::Job& job, const Route& route, const Expected& expected);

}  // namespace seatwright::cut
