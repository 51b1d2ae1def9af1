// The sentences of the setup sheet.
#pragma once

#include <string>
#include <vector>

#include "seatwright/plan/plan.hpp"

namespace seatwright::papers {

std::string mass_on_sheet(double kg, LengthUnit unit);     // "21 kg", "21 kg (46 lb)"
std::string slip_on_sheet(const hold::Safety& safety);     // "4.7", "level", "–"
std::string release_on_sheet(const hold::Safety& safety);  // "stays", "SLIDES: tilt back first", …
std::string posts_on_sheet(const hold::Posts& posts, LengthUnit unit);

// The warnings of one weight as sentences; many of one sort are one sentence that names the other valves.
std::vector<std::string> gathered_warnings(const Notices& notices, Weight weight);

// What always holds at such a machine (common practice).
std::vector<std::string> standing_cautions();

// What to look at before the first cut, for this plan.
std::vector<std::string> first_cut_checks(const job::Job& job, const plan::Plan& plan, LengthUnit unit);

}  // namespace seatwright::papers
