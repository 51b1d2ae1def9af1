// The next head on the same fixture, machined without touching any guide.
//
// It lies where the last one did but for what the posts allow: the midpoint of the posts ~ N(where it lay,
// sd²·I), the yaw about it ~ N(last yaw, yaw_sd²), sds from the posts' clearance (s/4 and √2·s/(4·span));
// with find.carry by what that says, offset and yaw at the setup's datum. Every guide is then off by pose,
// casting scatter and positioning. The chance that every pilot of the head enters is a joint one: all setups
// share the same displacement on the posts.
#pragma once

#include <optional>

#include "seatwright/find/find.hpp"
#include "seatwright/find/pose.hpp"

namespace seatwright::find {

inline constexpr double blind_target = 0.999;

// `heads` as located (the last one carries); `expected[setup][guide]` as the next head is expected, learned
// means and scatter included. None without posts and without carry, or when a pilot or mouth is not known.
std::optional<BlindRun> blind_run(const job::Job& job, const hold::Hold& hold, const Boxes<FoundHead>& heads,
                                  const std::vector<PilotChoice>& pilots,
                                  const std::vector<std::vector<Expected>>& expected);

}  // namespace seatwright::find
