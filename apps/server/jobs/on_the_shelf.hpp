// A new job's machine and fixture, chosen from the shelf where nobody has.
#pragma once

#include <string>
#include <vector>

#include "seatwright/store/refusal.hpp"
#include "server/jobs/stored_job.hpp"

namespace seatwright::server {

// Names of the shop's entries of that table, in order.
std::vector<std::string> names_on(const std::string& shop, const std::string& table);
// The name of the shop's first fixture; empty where it has none.
std::string first_fixture(const std::string& shop);

// The text naming the shop's first machine, unless `machine` names one, and the first fixture that holds
// every valve of the head, else the first; a shop without leaves them out.
store::Answer<std::string> on_the_shelf(const std::string& text, const std::string& shop,
                                        const std::string& machine = {}, const CastingText& castings = {});

}  // namespace seatwright::server
