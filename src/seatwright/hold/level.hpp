// What an electronic level on the guides says of the head as held.
#pragma once

#include <optional>
#include <vector>

#include "seatwright/hold/hold.hpp"

namespace seatwright::hold {

// A guide further from the median of the others than this many robust standard deviations (1.4826·median
// absolute deviation) is an outlier: beyond any normal scatter of a few guides …
inline constexpr double outlier_sds = 5;
// … if it is also further than a good shop level's own resolution with some margin (common practice).
inline constexpr double outlier_floor = 0.05 * rad_per_deg;
// With fewer guides read along an axis none can be told from the rest.
inline constexpr std::size_t outlier_min_guides = 4;

// Leans, or readings of one guide, further apart than this contradict each other: guides of one casting stray
// by 0.02 to 0.1 deg (trade, from memory), and this is more than twice that to either side.
inline constexpr double most_apart = 0.5 * rad_per_deg;
// One sensor has one zero: biases of readings of a head that differ by more mean that a sign or a turn is
// wrong.
inline constexpr double most_bias_apart = 0.3 * rad_per_deg;

// The readings of `head`, or if that is empty of the head whose reading comes last in the job; nothing
// without level readings of it. Conventions: lean = (first − second)/2 and bias = (first + second)/2 where
// the sensor was turned round; a reading that was not reversed takes the mean bias of those along its axis
// that were, or 0 when there are none (the bias is then said to be unknown). Readings of one guide are
// averaged, then guides; readings that contradict each other and that nobody confirmed are not averaged at
// all. A correction below what the fixture can be set to (fixture.step) is not ordered. `setups`: for what
// the correction moves in the map.
std::optional<Level> level_of(const job::Job& job, const std::vector<Setup>& setups,
                              const std::string& head = {});

// Notes on outliers, an unknown bias and readings of other heads left aside; a contradiction blocks, and so
// does a lean beyond the plumb limit that no lead lets pass (level_held.hpp).
std::vector<Warning> level_warnings(const job::Job& job, const std::optional<Level>& level,
                                    const std::vector<Setup>& setups, const std::string& head = {});

}  // namespace seatwright::hold
