// However a sum came about it has the same bits.
#include "seatwright/base/numerics/order_sums.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <random>
#include <string>

namespace seatwright::numerics {
namespace {

template <class Sum>
OrderSums<Sum> at_once(const std::vector<Sum>& things) {
    OrderSums<Sum> sums;
    for (const Sum& one : things) sums.push_back(one);
    return sums;
}

// Texts show the order, whatever is put into brackets.
TEST(OrderSums, AddsInOrder) {
    OrderSums<std::string> sums;
    std::string all;
    for (char letter = 'a'; letter <= 'z'; ++letter) {
        sums.push_back(std::string(1, letter));
        all += letter;
        EXPECT_EQ(sums.total(), all);
    }
}

TEST(OrderSums, HasTheBitsOfAFreshSumAfterWhateverChange) {
    std::mt19937_64 random(7);
    std::uniform_real_distribution<double> value(-1, 1);
    std::vector<double> things;
    OrderSums<double> kept;
    int differs_from_one_after_the_other = 0;
    for (int step = 0; step < 4000; ++step) {
        const auto what = random() % 10;
        const double one = std::ldexp(value(random), static_cast<int>(random() % 40));
        if (what < 6 || things.empty()) {
            things.push_back(one);
            kept.push_back(one);
        } else if (what < 8) {
            const std::size_t place = random() % things.size();
            things[place] = one;
            kept.replace(place, one);
        } else {
            things.pop_back();
            kept.pop_back();
        }
        ASSERT_EQ(kept.size(), things.size());
        if (things.empty()) continue;
        ASSERT_EQ(kept.total(), at_once(things).total()) << step;
        double in_line = 0;
        for (const double thing : things) in_line += thing;
        differs_from_one_after_the_other += in_line != kept.total();
    }
    EXPECT_GT(differs_from_one_after_the_other, 100) << "else this test would show nothing";
}

// A tree's rounding grows with the logarithm of the number (Higham 1993, pairwise summation).
TEST(OrderSums, LosesLessThanASumInLine) {
    OrderSums<float> kept;
    float in_line = 0;
    constexpr int n = 1 << 20;
    for (int i = 0; i < n; ++i) {
        kept.push_back(0.1F);
        in_line += 0.1F;
    }
    const double right = n * static_cast<double>(0.1F);
    EXPECT_NEAR(kept.total() / right, 1, 20 * 6e-8);
    EXPECT_GT(std::abs(in_line / right - 1), 1e-4);
}

}  // namespace
}  // namespace seatwright::numerics
