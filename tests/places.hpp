// Where the tests find what they read and run.
#pragma once

namespace seatwright::places {

extern const char* const root;    // of the source
extern const char* const shared;  // published data beside it
extern const char* const binary;  // the program as built

}  // namespace seatwright::places
