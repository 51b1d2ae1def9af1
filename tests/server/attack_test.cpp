// Twenty people work while the server is under attack. Held to three times what is aimed at (50 ms, 200 MiB),
// or to three times what they wait without any attack where that is more, and to the best of three tries:
// this machine may be busy with other things. The aim itself is the bench's (bench/attack_bench.cpp).
#include <gtest/gtest.h>

#include <algorithm>

#include "../draws.hpp"
#include "attacked.hpp"

namespace seatwright::server {
namespace {

constexpr double aimed_p99_ms = 50, aimed_memory = 200;  // MiB over what it has when idle
constexpr double busy = 3;

// `few`: of the little draw, every attack once over one of the two.
void expect_at_work(Over over, const std::vector<Attack>& few) {
    Attacked server(over);
    ASSERT_TRUE(server.begin());
    for (const Attack attack : every_attack) {
        if (!whole_draw() && std::find(few.begin(), few.end(), attack) == few.end()) continue;
        double longest = 0, most = 0;
        for (int tries = 0; tries < 3 && longest >= most; ++tries) {
            most = busy * std::max(aimed_p99_ms, server.in_peace(drawn(1, 5)).p99_ms);
            const UnderAttack found = server.by(attack, drawn(1, 10));
            longest = found.waits.p99_ms;
            EXPECT_EQ(found.waits.failed, 0) << name_of(attack);
            EXPECT_GE(found.waits.answered, 20) << name_of(attack);
            EXPECT_LT(found.memory, busy * aimed_memory) << name_of(attack);
        }
        EXPECT_LT(longest, most) << name_of(attack);
    }
}

TEST(Attack, PeopleGoOnWorkingOverHttp) {
    expect_at_work(Over::http, {Attack::slow_heads, Attack::huge_headers, Attack::many_ranges});
}

TEST(Attack, PeopleGoOnWorkingOverTls) {
    expect_at_work(Over::https, {Attack::slow_bodies, Attack::idle, Attack::half_handshakes});
}

}  // namespace
}  // namespace seatwright::server
