// Yaw as a move a person can make.
//
// The head turns back by a yaw θ (readout coordinates, positive from +X towards +Y) when one post is shifted
// about the other from p to q + Rot(−θ)(p − q): square to the line of the posts, by span·sin θ as near as
// matters. The post of the smaller readout X is the one to shift; with the posts along X it goes towards +Y
// for a yaw above 0. Lengths mm, angles rad.
#pragma once

#include <optional>

#include "seatwright/find/find.hpp"

namespace seatwright::find {

std::optional<Square> square_up(const job::Job& job, const hold::Hold& hold, const hold::Setup& setup,
                                double yaw, double yaw_sd);

}  // namespace seatwright::find
