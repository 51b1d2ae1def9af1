#include "seatwright/base/cache.hpp"

#include <gtest/gtest.h>

#include <stdexcept>
#include <thread>

namespace seatwright {
namespace {

TEST(Cache, MakesEachOnceAndForgetsTheOneNotUsedLongest) {
    Cache<int, const int> squares(3);
    int made = 0;
    const auto square = [&](int x) {
        return *squares.get(x, [&] {
            ++made;
            return std::make_shared<const int>(x * x);
        });
    };
    EXPECT_EQ(square(2), 4);
    EXPECT_EQ(square(3), 9);
    EXPECT_EQ(square(4), 16);
    EXPECT_EQ(square(2), 4);
    EXPECT_EQ(made, 3);
    EXPECT_EQ(square(5), 25);  // the fourth: 3 is forgotten, 2 was asked for since
    EXPECT_EQ(square(2), 4);
    EXPECT_EQ(made, 4);
    EXPECT_EQ(square(3), 9);
    EXPECT_EQ(made, 5);
    squares.forget(3);
    EXPECT_EQ(square(3), 9);
    EXPECT_EQ(made, 6);
}

TEST(Cache, WhoAsksForWhatIsBeingMadeWaitsForIt) {
    Cache<int, const int> cache(3);
    std::atomic<int> made = 0;
    std::vector<std::thread> threads;
    threads.reserve(8);
    for (int i = 0; i < 8; ++i)
        threads.emplace_back([&] {
            const auto got = cache.get(1, [&] {
                ++made;
                std::this_thread::sleep_for(std::chrono::milliseconds(20));
                return std::make_shared<const int>(7);
            });
            EXPECT_EQ(*got, 7);
        });
    for (auto& thread : threads) thread.join();
    EXPECT_EQ(made, 1);
}

TEST(Cache, WhatThrowsIsNotKept) {
    Cache<int, const int> cache(3);
    EXPECT_THROW(cache.get(1, []() -> std::shared_ptr<const int> { throw std::runtime_error("no"); }),
                 std::runtime_error);
    EXPECT_EQ(*cache.get(1, [] { return std::make_shared<const int>(5); }), 5);
}

}  // namespace
}  // namespace seatwright
