// 300 heads of the virtual shop (10 000 in ./check --all; docs/virtual-shop.md) at a fixed seed: without a
// slip no head is harmed, and with one none is harmed but by what docs/virtual-shop.md lists as not to be
// known.
#include <gtest/gtest.h>

#include <algorithm>
#include <iostream>

#include "draws.hpp"
#include "missing.hpp"
#include "shop.hpp"

namespace seatwright::sim {
namespace {

constexpr double slip_rate = 0.03;

// docs/virtual-shop.md, "Cannot be caught from what is known".
constexpr const char* not_to_be_known[] = {"zero at Z0", "pilot at the pilot"};

bool listed(const std::string& what) {
    return std::any_of(std::begin(not_to_be_known), std::end(not_to_be_known),
                       [&](const char* begins) { return what.rfind(begins, 0) == 0; });
}

TEST(VirtualShop, HeadsGoRoundTheLoop) {
    const auto folder = interpreter_folder();
    if (!folder) GTEST_SKIP() << outside::missing(outside::no_interpreter);
    const int heads = drawn(300, 10'000);
    Shop shop(12, slip_rate, *folder);
    shop.take(heads);
    const Account& account = shop.account();
    EXPECT_EQ(account.heads, heads);
    EXPECT_GE(account.kinds.size(), 12u);
    EXPECT_GT(account.seats, 4 * heads);
    EXPECT_EQ(account.doubted, 0) << "seats that came out and are not certified";
    for (const std::string& harmed : account.clean_harmed) ADD_FAILURE() << "without a slip: " << harmed;
    for (const auto& [what, count] : account.let_through)
        EXPECT_TRUE(listed(what)) << count << " x let through: " << what;
    int caught = 0;
    for (std::size_t s = 0; s < slip_kinds; ++s) {
        int count = 0;
        for (const int n : account.fate[s]) count += n;
        EXPECT_GT(count, 0) << word(static_cast<Slip>(s)) << " did not occur";
        for (const Fate fate : {Fate::refused, Fate::held, Fate::said, Fate::at_machine})
            caught += account.fate[s][static_cast<std::size_t>(fate)];
    }
    EXPECT_GT(caught, account.slips / 3);
    for (const std::string& example : account.examples) std::cout << example << "\n";
    std::cout << account.heads << " heads, " << account.slips << " slips in " << account.acts << " acts, "
              << caught << " caught; " << account.seats << " seats cut\n";
}

}  // namespace
}  // namespace seatwright::sim
