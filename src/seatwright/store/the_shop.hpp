// Every row says whose it is. A data folder holds one shop's; a database server may hold several.
#pragma once

namespace seatwright::store {

inline constexpr long long the_shop = 1;

}  // namespace seatwright::store
