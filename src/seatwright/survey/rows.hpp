// From readings to rows of the least-squares problem.
#pragma once

#include <vector>

#include "seatwright/survey/model.hpp"

namespace seatwright::survey {

// Everything read, a row a figure. A setup's tilt (and swing) is one reading however many lines repeat it;
// lines far from where most have it are set aside. X and Y of a valve's head are where the stylus stood, no
// reading of the valve's place; a head without head_height says nothing.
std::vector<Row> rows_of(const Readings& readings, const Layout& layout);

// The sensor was set to 0 on the deck: what it reads of the cradle's tilt and swing is the deck's own. Counts
// only where no reading of the deck says more.
std::vector<Row> zero_rows(const Readings& readings, const Layout& layout);

// A head clamped once: its setups lie where one yaw and two turning axes put them.
std::vector<Row> turning_rows(const Layout& layout);

// A setup is tilted to its guides as well as that is done.
std::vector<Row> set_off_rows(const Layout& layout);

// A pilot stands plumb when the spindle is brought over its guide: says how guide `g` leans the way `axis`
// (0 across, 1 along) where no level reading does. None if the guide was never brought under the spindle.
std::optional<Row> plumb_row(const Readings& readings, const Layout& layout, std::size_t g, int axis);

// How far a guide stands from plumb in the setup that is tilted to it: guides of a casting tilt by 0.02 to
// 0.1 deg (from memory) of their own, and what the setup is off is common to all that are read in it.
inline constexpr double plumb_sd = 0.05 * rad_per_deg, set_off_sd = 0.05 * rad_per_deg;
// How crooked a head may lie on its cradle where nothing shows it (from memory).
inline constexpr double crooked_sd = 2 * rad_per_deg;
// A fixture turns without play: how well a head clamped once keeps its axes, mm and rad.
inline constexpr double turning_sd = 0.005, turning_yaw_sd = 0.002 * rad_per_deg;

}  // namespace seatwright::survey
