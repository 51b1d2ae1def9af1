// What a test needs from outside and does not find: such a test is skipped, and says so. Where CI is set
// (./check
// --all sets it, ./check passes on what stands) everything is to be there, and what is missing fails the
// test: if (!folder) GTEST_SKIP() << outside::missing("…");
#pragma once

#include <gtest/gtest.h>

#include <cstdlib>
#include <string>

namespace seatwright::outside {

inline std::string missing(const std::string& what) {
    if (std::getenv("CI") != nullptr) ADD_FAILURE() << what << "; under CI it must be there";
    return what;
}

inline const std::string no_interpreter = "no outside interpreter (scripts/fetch_rs274 brings it)";
inline const std::string no_data = "the reference data are not here";

}  // namespace seatwright::outside
