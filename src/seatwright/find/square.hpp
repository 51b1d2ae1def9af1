// Yaw as a move a person can make.
//
// A yaw θ (readout coordinates, positive from +X towards +Y) lifts the post further along +X by span·sin θ
// above the other. Shifting the nearer post (smaller readout X) by that much towards the readout's +Y, its
// sign counted, makes the row run true along the table. Lengths mm, angles rad.
#pragma once

#include <optional>

#include "seatwright/find/find.hpp"

namespace seatwright::find {

std::optional<Square> square_up(const job::Job& job, const hold::Hold& hold, const hold::Setup& setup,
                                double yaw, double yaw_sd);

}  // namespace seatwright::find
