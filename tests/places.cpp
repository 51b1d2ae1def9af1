#include "places.hpp"

namespace seatwright::places {

const char* const root = SEATWRIGHT_ROOT;
const char* const shared = SEATWRIGHT_SHARED;
const char* const binary = SEATWRIGHT_BINARY;

}  // namespace seatwright::places
