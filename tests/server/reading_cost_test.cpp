// What one more reading costs the server does not hang on how many were before it. bench/reading_bench has
// the figures; here they are held at three times the aim, as other programs share the machine.
#include <gtest/gtest.h>

#include <algorithm>

#include "../../bench/server_job.hpp"
#include "draws.hpp"
#include "many_heads.hpp"
#include "places.hpp"
#include "server/answers/job_state.hpp"

namespace seatwright::server {
namespace {

// Processor time a reading of a head after `heads` others takes from the stored entry to the page's delta,
// ms: the mean over a whole head.
double cost_after(int heads) {
    TestShop shop;
    const long long id = job_of_heads(shop, job_of_32(shop, places::root), heads);
    Workbench& bench = *shop.bench;
    Heads of(*bench.cache.stored(id)->document);
    const store::Person pat = bench.people.all().front();
    double sum = 0;
    std::string key;
    const StateAsked page{std::to_string(heads + 1), std::nullopt};
    state_text(bench, id, page);
    key = key_of(*bench.cache.stored(id));
    for (int n = 0; n < readings_of_a_head; ++n) {
        auto entry = of.reading(heads + 1, n);
        entry.client_key += "-timed";
        EXPECT_TRUE(bench.entries.append(pat, id, entry));
        const double from = cpu_ms();
        EXPECT_TRUE(delta_text(bench, id, page, key));
        sum += cpu_ms() - from;
        key = key_of(*bench.cache.stored(id));
    }
    return sum / readings_of_a_head;
}

TEST(ReadingCost, DoesNotHangOnHowManyWereBefore) {
    cost_after(10);  // what is worked out once for all jobs
    const double few = cost_after(10), many = cost_after(drawn(200, 1000, 50));
#if defined(__OPTIMIZE__) && !defined(_GLIBCXX_ASSERTIONS)
    EXPECT_LT(many, 3 * 5.0);
#endif
    // Eighteen readings on a shared machine are a rough measure; going through all heads again would cost
    // times.
    EXPECT_LT(many, 1.6 * few + 1) << few;
}

// The heads after it learn anew; meanwhile nobody waits (growing_job_test).
TEST(ReadingCost, OfAnOldHeadIsThatOfTheHeadsAfterIt) {
    const int heads = drawn(100, 1000, 30);
    TestShop shop;
    const long long id = job_of_heads(shop, job_of_32(shop, places::root), heads);
    Workbench& bench = *shop.bench;
    const store::Person pat = bench.people.all().front();
    const StateAsked page{std::to_string(heads), std::nullopt};
    state_text(bench, id, page);
    const std::string key = key_of(*bench.cache.stored(id));
    ASSERT_TRUE(bench.entries.append(pat, id, moved(bench.cache.stored(id)->entries[0], 0.004)));
    const double from = cpu_ms();
    ASSERT_TRUE(delta_text(bench, id, page, key));
    const double cost = cpu_ms() - from;
    RecordProperty("ms", std::to_string(cost));
#if defined(__OPTIMIZE__) && !defined(_GLIBCXX_ASSERTIONS)
    EXPECT_LT(cost, 3 * (10.0 + 490.0 * heads / 1000));
#endif
}

}  // namespace
}  // namespace seatwright::server
