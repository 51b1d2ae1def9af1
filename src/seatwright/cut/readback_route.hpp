// The route itself held against what head, touches and readings allow, before a line of its program is looked
// at.
#pragma once

#include <string>
#include <vector>

#include "seatwright/cut/expect.hpp"

namespace seatwright::cut {

// What is wrong with the route's seats as a set: places, heights, zeros, trim, order, travel; empty: nothing.
std::string fault_of_route(const job::Job& job, const Route& route, const Expected& expected);

// A seat that two files of one plan would cut to its stop, as a sentence part; empty: none.
std::string fault_of_files(const std::vector<const Route*>& routes);

// For each stop the least height at which its tool's lowest point stands clear of what it is to meet.
std::vector<double> heights_over_mouth(const job::Job& job, const Route& route, const Expected& expected);

}  // namespace seatwright::cut
