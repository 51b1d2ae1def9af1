// A text with one place of it written otherwise.
#pragma once

#include <gtest/gtest.h>

#include <string>

namespace seatwright::fixtures {

// The first `from` becomes `to`; fails where there is none.
inline std::string changed(std::string text, const std::string& from, const std::string& to) {
    const auto at = text.find(from);
    EXPECT_NE(at, std::string::npos) << from;
    return at == std::string::npos ? text : text.replace(at, from.size(), to);
}

}  // namespace seatwright::fixtures
