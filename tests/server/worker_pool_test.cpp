// Requests are answered a few at a time in the order of their coming; one that takes long holds nobody up.
#include "server/http/worker_pool.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <atomic>
#include <latch>
#include <numeric>

namespace seatwright::server {
namespace {

using namespace std::chrono_literals;

TEST(WorkerPool, WorksOnAFewAtOnceInTheOrderOfTheirComing) {
    constexpr int all = 40, few = 2;
    std::mutex mutex;
    std::vector<int> begun;
    int now = 0, most = 0;
    {
        WorkerPool pool(32, few, 1h);
        std::latch ready(1);
        pool.add([&] { ready.wait(); });  // until all others wait
        for (int i = 0; i < all; ++i)
            pool.add([&, i] {
                {
                    const std::lock_guard lock(mutex);
                    begun.push_back(i);
                    most = std::max(most, ++now);
                }
                std::this_thread::sleep_for(1ms);
                const std::lock_guard lock(mutex);
                --now;
            });
        ready.count_down();
    }
    std::vector<int> wanted(all);
    std::iota(wanted.begin(), wanted.end(), 0);
    // Two that begin together may take the lock the other way round.
    for (int i = 0; i < all; ++i) EXPECT_NEAR(begun[static_cast<std::size_t>(i)], i, few) << i;
    std::sort(begun.begin(), begun.end());
    EXPECT_EQ(begun, wanted);
    EXPECT_LE(most, few);
}

TEST(WorkerPool, WhatTakesLongHoldsNobodyUp) {
    constexpr int many = 12;
    std::latch over(1), all_begun(many), last(1);
    WorkerPool pool(many + 1, 2);
    for (int i = 0; i < many; ++i)
        pool.add([&] {
            all_begun.count_down();
            over.wait();
        });
    all_begun.wait();  // would never come if those before were counted for ever
    pool.add([&] { last.count_down(); });
    last.wait();
    over.count_down();
}

TEST(WorkerPool, WhatWaitsForItsTurnIsNotCounted) {
    constexpr int many = 12;
    std::latch over(1), all_wait(many), last(1);
    WorkerPool pool(2 * many, 1, 1h);
    for (int i = 0; i < many; ++i)
        pool.add([&] {
            const WorkerPool::Waits for_its_turn;
            all_wait.count_down();
            over.wait();
        });
    all_wait.wait();  // would never come if the first were counted
    pool.add([&] { last.count_down(); });
    last.wait();
    over.count_down();
    pool.finish();
    const WorkerPool::Waits of_no_pool;  // of this thread: nothing to be counted
}

TEST(WorkerPool, DoesWhatWaitsBeforeItEnds) {
    std::atomic<int> done{0};
    {
        WorkerPool pool(4, 1);
        for (int i = 0; i < 500; ++i) pool.add([&] { ++done; });
    }
    EXPECT_EQ(done, 500);
    {
        // No more threads than that, all of them held up for longer than `soon`: the rest waits and is done.
        WorkerPool pool(2, 1, 5ms);
        for (int i = 0; i < 6; ++i)
            pool.add([&] {
                std::this_thread::sleep_for(10ms);
                ++done;
            });
    }
    EXPECT_EQ(done, 506);
}

}  // namespace
}  // namespace seatwright::server
