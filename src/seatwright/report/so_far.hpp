// A run as far as it has come, without working out more: what stands of it, and what stopped the rest.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "seatwright/plan/run.hpp"
#include "seatwright/report/brief.hpp"

namespace seatwright::report {

// Of every stage that is there; of those an error of the program stopped, too.
Notices notices_so_far(const plan::Run& run);

// A stage that is not there stands open, with the first thing it lacks as what is next; one that an error of
// the program stopped needs you.
std::vector<StageLine> brief_so_far(const plan::Run& run, const Speech& speech, const std::string& head = {});

// The frame, and every stage that is there under its name.
nlohmann::ordered_json json_so_far(const plan::Run& run);

}  // namespace seatwright::report
