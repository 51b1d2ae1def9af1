// 300 heads of the virtual shop (10 000 in ./check --all; docs/virtual-shop.md) at a fixed seed: without a
// slip no head is harmed, and with one none is harmed but by what docs/virtual-shop.md lists as not to be
// known.
#include <gtest/gtest.h>

#include <algorithm>
#include <iostream>
#include <string>
#include <string_view>
#include <vector>

#include "draws.hpp"
#include "missing.hpp"
#include "share.hpp"
#include "shop.hpp"

namespace seatwright::sim {
namespace {

constexpr double slip_rate = 0.03;

// docs/virtual-shop.md, "Cannot be caught from what is known": how a kind begins and ends, and of how many
// heads it comes at most. Two draws of 10 000 (seeds 1 and 12) gave 82 and 75, 16 and 12, 12 and 8, 1 and 3,
// 0 and 1.
struct NotToBeKnown {
    std::string_view begins, within;
    double most;
    std::size_t times = 0;
};

std::vector<NotToBeKnown> not_to_be_known() {
    return {{"pilot at the pilot", "", 0.0085},
            {"zero at Z0", "", 0.0016},
            {"", " at a touch: seat . lies . off its guide", 0.0012},
            {"sign at a recession: seat . ends . deep", "", 0.0003},
            {"sign at the drawing: guide . leans . deg from the spindle (said: trim)", "", 0.0001}};
}

constexpr double most_not_certified = 0.0003;  // of the seats that came out: 12 of 52 694 and 6 of 52 418

TEST(VirtualShop, HeadsGoRoundTheLoop) {
    const auto folder = interpreter_folder();
    if (!folder) GTEST_SKIP() << outside::missing(outside::no_interpreter);
    const int heads = drawn(300, 10'000, 150);
    Shop shop(12, slip_rate, *folder);
    shop.take(heads);
    const Account& account = shop.account();
    EXPECT_EQ(account.heads, heads);
    EXPECT_GE(account.kinds.size(), 12u);
    EXPECT_GT(account.seats, 4 * heads);
    expect_share(static_cast<std::size_t>(account.doubted), static_cast<std::size_t>(account.seats), 0,
                 most_not_certified, "seats that came out and are not certified");
    for (const std::string& harmed : account.clean_harmed) ADD_FAILURE() << "without a slip: " << harmed;
    auto kinds = not_to_be_known();
    for (const auto& [what, count] : account.let_through) {
        const auto kind = std::find_if(kinds.begin(), kinds.end(), [&what = what](const NotToBeKnown& one) {
            return what.starts_with(one.begins) && what.find(one.within) != std::string::npos;
        });
        if (kind == kinds.end())
            ADD_FAILURE() << count << " x let through: " << what;
        else
            kind->times += static_cast<std::size_t>(count);
    }
    for (const NotToBeKnown& one : kinds)
        expect_share(one.times, static_cast<std::size_t>(heads), 0, one.most,
                     std::string(one.begins).append(one.within).c_str());
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
