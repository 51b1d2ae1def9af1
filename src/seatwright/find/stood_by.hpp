// Touches the machinist stands by (keep = true in the job): a repaired or relocated guide.
//
// Such a touch is never set aside, stays out of the fit of the pose and of judging the others, and places its
// own guide: nothing is presumed of that guide's casting, so it lies where the touch says, with the touch's
// own error. Where the other touches alone do not say how the setup lies, every touch takes part as any
// other.
#pragma once

#include <span>
#include <vector>

#include "seatwright/find/pose.hpp"

namespace seatwright::find {

// Those that are not stood by.
std::vector<Reading> others_than_stood_by(std::span<const Reading> readings);

// Some touch is stood by, and the others with the prior leave the setup's place or yaw unknown.
bool needs_stood_by(std::span<const Expected> guides, std::span<const Reading> readings, const Prior& prior);

// The guides with the casting scatter of each that a touch is stood by at let go: a metre, far beyond any
// casting, and little enough that no digit of the touch's own error is lost.
std::vector<Expected> set_free(std::vector<Expected> guides, std::span<const Reading> readings);

// What is read of each guide: by the touches stood by alone where there are any, else by those in the fit.
std::vector<Combined> combine_stood_by(std::size_t guides, std::span<const Reading> fitted,
                                       std::span<const Reading> readings);

}  // namespace seatwright::find
