// The program's version, as printed by --version and in every JSON answer.
#pragma once

namespace seatwright {

inline constexpr const char* version = "0.1.0";

}  // namespace seatwright
