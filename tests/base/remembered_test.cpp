#include "seatwright/base/remembered.hpp"

#include <gtest/gtest.h>

namespace seatwright {
namespace {

TEST(Remembered, ComputesEachValueOnceUntilThereAreTooMany) {
    Remembered<int, int> squares(3);
    int computed = 0;
    const auto square = [&](int x) {
        return squares.of(x, [&] {
            ++computed;
            return x * x;
        });
    };
    EXPECT_EQ(square(2), 4);
    EXPECT_EQ(square(3), 9);
    EXPECT_EQ(square(2), 4);
    EXPECT_EQ(computed, 2);
    EXPECT_EQ(square(4), 16);
    EXPECT_EQ(square(5), 25);  // the fourth: the others are forgotten
    EXPECT_EQ(square(2), 4);
    EXPECT_EQ(computed, 5);
}

}  // namespace
}  // namespace seatwright
