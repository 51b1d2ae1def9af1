// The drawing engine: its generator against the published answers, its transforms against double precision,
// same bits whatever the threads, and its rates against the cases computed beforehand. Inputs invented.
#include <gtest/gtest.h>

#include <algorithm>
#include <boost/math/distributions/normal.hpp>
#include <cmath>

#include "forecast/drawn_row.hpp"
#include "forecast/full_batch.hpp"
#include "seatwright/base/units.hpp"
#include "seatwright/forecast/draw.hpp"
#include "seatwright/forecast/integrate.hpp"
#include "seatwright/forecast/transforms.hpp"

#ifdef SEATWRIGHT_EACH_WIDTH
namespace seatwright::forecast_sse2 {
std::vector<std::uint64_t> drawn(std::uint64_t heads, std::uint64_t seed);
}
namespace seatwright::forecast_avx2 {
std::vector<std::uint64_t> drawn(std::uint64_t heads, std::uint64_t seed);
}
namespace seatwright::forecast_avx512f {
std::vector<std::uint64_t> drawn(std::uint64_t heads, std::uint64_t seed);
}
#endif

namespace seatwright::forecast {
namespace {

// Known answers of Philox4x32-10 as Random123 publishes them (kat_vectors).
TEST(Philox, KnownAnswers) {
    using Four = std::array<std::uint32_t, 4>;
    EXPECT_EQ(philox_one({0, 0, 0, 0}, {0, 0}), (Four{0x6627e8d5, 0xe169c58d, 0xbc57ac4c, 0x9b00dbd8}));
    EXPECT_EQ(philox_one({~0U, ~0U, ~0U, ~0U}, {~0U, ~0U}),
              (Four{0x408f276d, 0x41c83b0e, 0xa20bc7c6, 0x6d5451fd}));
    EXPECT_EQ(philox_one({0x243f6a88, 0x85a308d3, 0x13198a2e, 0x03707344}, {0xa4093822, 0x299f31d0}),
              (Four{0xd16cfe09, 0x94fdcceb, 0x5001e420, 0x24126ea1}));
}

TEST(Philox, ManyAtOnceAreTheSame) {
    Words words;
    const std::uint64_t seed = 0x0123456789abcdefULL, first = 0xfffffff0ULL;  // across the low word's end
    philox(seed, first, 7, words);
    for (const std::size_t i : {std::size_t{0}, std::size_t{15}, std::size_t{16}, lanes - 1}) {
        const std::uint64_t head = first + i;
        const auto one =
            philox_one({static_cast<std::uint32_t>(head), static_cast<std::uint32_t>(head >> 32), 7, 0},
                       {static_cast<std::uint32_t>(seed), static_cast<std::uint32_t>(seed >> 32)});
        EXPECT_EQ(words.a[i], one[0]);
        EXPECT_EQ(words.b[i], one[1]);
        EXPECT_EQ(words.c[i], one[2]);
        EXPECT_EQ(words.d[i], one[3]);
    }
}

TEST(Transforms, AgainstDoublePrecision) {
    double worst = 0, largest = 0, disc = 0;
    for (std::uint64_t block = 0; block < 4000; ++block) {
        Words words;
        philox(5, block * lanes, 0, words);
        // The ends too.
        if (block == 0) {
            words.a[0] = 0;
            words.a[1] = ~0U;
            words.b[0] = words.b[1] = 0;
            words.b[2] = ~0U;
            words.b[3] = 0x20000000U;
            words.b[4] = 0x1fffffffU;
        }
        Lane x, y, u, v;
        normals(words.a, words.b, x, y);
        in_disc(words.c, words.d, u, v);
        for (std::size_t i = 0; i < lanes; ++i) {
            const double r = std::sqrt(-2 * std::log((static_cast<double>(words.a[i] >> 1) + 0.5) / 0x1p31));
            const double turn = 2 * pi * static_cast<double>(words.b[i]) / 0x1p32;
            worst =
                std::max({worst, std::abs(x[i] - r * std::cos(turn)), std::abs(y[i] - r * std::sin(turn))});
            largest = std::max(largest, r);
            const double radius = std::sqrt((static_cast<double>(words.c[i] >> 1) + 0.5) / 0x1p31);
            disc = std::max(disc, std::abs(std::hypot(u[i], v[i]) - radius));
            ASSERT_TRUE(std::isfinite(x[i]) && std::isfinite(y[i]));
        }
    }
    EXPECT_LT(worst, 3e-6);
    EXPECT_NEAR(largest, 6.66, 0.01);
    EXPECT_LT(disc, 3e-7);
}

// Shares below the exact quantiles of the standard normal, within four standard errors.
TEST(Transforms, ExactQuantiles) {
    constexpr std::size_t blocks = 20000;
    const double n = 2.0 * blocks * lanes;
    const std::array<double, 9> shares{1e-5, 1e-4, 0.001, 0.01, 0.1, 0.5, 0.9, 0.99, 0.9999};
    std::array<double, 9> quantiles{}, below{};
    for (std::size_t q = 0; q < shares.size(); ++q)
        quantiles[q] = boost::math::quantile(boost::math::normal(), shares[q]);
    double sum = 0, squares = 0;
    for (std::uint64_t block = 0; block < blocks; ++block) {
        Words words;
        philox(11, block * lanes, 3, words);
        Lane x, y;
        normals(words.a, words.b, x, y);
        for (const Lane* lane : {&x, &y})
            for (const float z : *lane) {
                sum += z;
                squares += static_cast<double>(z) * z;
                for (std::size_t q = 0; q < shares.size(); ++q) below[q] += z < quantiles[q] ? 1 : 0;
            }
    }
    for (std::size_t q = 0; q < shares.size(); ++q)
        EXPECT_NEAR(below[q] / n, shares[q], 4 * std::sqrt(shares[q] * (1 - shares[q]) / n)) << shares[q];
    EXPECT_NEAR(sum / n, 0, 4 / std::sqrt(n));
    EXPECT_NEAR(squares / n, 1, 4 * std::sqrt(2 / n));
}

using test::everything_of;
using test::full_batch;

#ifdef SEATWRIGHT_EACH_WIDTH
// The whole drawing, built for one width alone, against what this machine picks by itself.
TEST(Draw, SameBitsAtEachVectorWidth) {
    const auto wanted = everything_of(draw({full_batch(), 100'003, 42, 3}));
    EXPECT_EQ(forecast_sse2::drawn(100'003, 42), wanted);
    if (__builtin_cpu_supports("avx2")) {
        EXPECT_EQ(forecast_avx2::drawn(100'003, 42), wanted);
    }
    if (__builtin_cpu_supports("avx512f")) {
        EXPECT_EQ(forecast_avx512f::drawn(100'003, 42), wanted);
    }
}
#endif

// Its generator by itself: heads beyond 2^32 too.
TEST(Draw, SameNumbersWhateverTheWidth) {
    for (const std::uint64_t first : {0ULL, 256ULL, 0xFFFFFF80ULL, 0x123456789A00ULL})
        for (const bool same : philox_ways_agree(0x9876543210ULL, first, 5)) EXPECT_TRUE(same) << first;
    Words words;
    constexpr std::uint64_t begin = 0x100000000ULL - lanes / 2;
    philox(0x9876543210ULL, begin, 5, words);
    for (const std::size_t i : {std::size_t{0}, lanes / 2 - 1, lanes / 2, lanes - 1}) {
        const std::uint64_t head = begin + i;
        const auto one =
            philox_one({static_cast<std::uint32_t>(head), static_cast<std::uint32_t>(head >> 32), 5, 0},
                       {0x76543210U, 0x98U});
        EXPECT_EQ(one, (std::array{words.a[i], words.b[i], words.c[i], words.d[i]})) << i;
    }
}

TEST(Draw, SameBitsWhateverTheThreads) {
    const Batch batch = full_batch();
    const Drawn once = draw({batch, 100'003, 42, 1});
    for (const int threads : {2, 3, 8})
        EXPECT_EQ(everything_of(draw({batch, 100'003, 42, threads})), everything_of(once)) << threads;
    EXPECT_NE(draw({batch, 100'003, 43, 1}).good, once.good);
    // Fewer heads are the first of more.
    const Drawn fewer = draw({batch, 50'000, 42, 2});
    EXPECT_EQ(fewer.heads, 50'000u);
    EXPECT_LT(fewer.good, once.good);
}

TEST(Draw, CanBeStopped) {
    const Batch batch = full_batch();
    const std::atomic<bool> stop{true};
    const Drawn none = draw({batch, 1'000'000, 42, 2, &stop});
    EXPECT_EQ(none.heads, 0u);
    std::uint64_t told = 0;
    (void)draw({batch, 100'000, 42, 1, nullptr, [&](std::uint64_t done) { told = done; }});
    EXPECT_EQ(told, 100'000u);
}

// Drawn against integrated: pass rate, verdicts, risks, every head, within joint limits.
TEST(Draw, AgreesWithTheIntegral) {
    const Batch batch = full_batch();
    constexpr double heads = 1e6;
    const Drawn drawn = draw({batch, static_cast<std::uint64_t>(heads), 7, 2});
    Effort effort;
    effort.points = effort.most_points = 512;
    effort.verdict_points = 1024;
    const Rates rates = integrated(batch, effort);
    const auto agree = [&](std::uint64_t hits, double wanted, const char* what) {
        const double p = static_cast<double>(hits) / heads;
        EXPECT_NEAR(p, wanted, 4 * std::sqrt(wanted * (1 - wanted) / heads) + 1e-3 * wanted + 1e-5) << what;
    };
    agree(drawn.good, rates.good, "good");
    ASSERT_TRUE(rates.judged && drawn.judged);
    agree(drawn.pass, rates.pass, "pass");
    agree(drawn.fail, rates.fail, "fail");
    agree(drawn.producer_fail, rates.producer_fail, "good and failed");
    agree(drawn.producer_undecided, rates.producer_undecided, "good and undecided");
    const double consumer = static_cast<double>(drawn.consumer) / heads;
    EXPECT_NEAR(consumer, rates.consumer, 4 * std::sqrt(rates.consumer / heads) + 2 * rates.consumer_error);
    for (std::size_t h = 0; h < 20; ++h) {
        const double n = static_cast<double>(drawn.by_head[h]);
        const double p = static_cast<double>(drawn.good_by_head[h]) / n;
        EXPECT_NEAR(p, rates.by_head[h], 4.5 * std::sqrt(p * (1 - p) / n) + 1e-3) << h;
    }
}

}  // namespace
}  // namespace seatwright::forecast
