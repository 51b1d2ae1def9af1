// Counts of what was drawn, held against a share: the limit is the same however many are drawn, few only find
// less.
#pragma once

#include <gtest/gtest.h>

#include <boost/math/distributions/binomial.hpp>

namespace seatwright {

// Fails at a count that would come up less than once in 10 000 if the share were between `low` and `high`.
inline void expect_share(std::size_t held, std::size_t of, double low, double high, const char* what) {
    constexpr double seldom = 1e-4;
    using boost::math::binomial;
    const auto n = static_cast<double>(of), k = static_cast<double>(held);
    ASSERT_GT(of, 0U) << what;
    if (held < of) {
        EXPECT_GT(boost::math::cdf(binomial(n, low), k), seldom) << what << ": " << held << " of " << of;
    }
    if (held > 0 && high < 1) {
        EXPECT_GT(boost::math::cdf(complement(binomial(n, high), k - 1)), seldom)
            << what << ": " << held << " of " << of;
    }
}

}  // namespace seatwright
