// Rows of surveys and castings say whose they are; one data folder holds one shop's.
#pragma once

namespace seatwright::store {

inline constexpr long long the_shop = 1;

}  // namespace seatwright::store
