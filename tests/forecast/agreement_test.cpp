// The two ways of working out a batch, drawn head by head and integrated, held against each other over
// batches of all sorts: what they share is the batch and nothing else. bench_forecast does the same with 1e8
// heads each.
#include <gtest/gtest.h>

#include <cmath>

#include "draws.hpp"
#include "many_batches.hpp"
#include "seatwright/forecast/draw.hpp"
#include "seatwright/forecast/integrate.hpp"

namespace seatwright::forecast {
namespace {

TEST(Agreement, DrawnAndIntegratedOverManyBatches) {
    const double heads = seatwright::drawn(20'000, 1'000'000);
    double chi = 0, count = 0;
    for (const auto& [name, batch] : test::many_batches()) {
        SCOPED_TRACE(name);
        const Rates rates = integrated(batch);
        const Drawn drawn = draw({batch, static_cast<std::uint64_t>(heads), 3, 2});
        ASSERT_TRUE(rates.judged && drawn.judged) << name;
        // Counts within 4.5 standard errors (one in 150 000), what both say of their own error besides.
        const auto agree = [&](std::uint64_t hits, double wanted, double of_its_own, const char* what) {
            ASSERT_TRUE(std::isfinite(wanted)) << what;
            EXPECT_GE(wanted, -1e-12) << what;
            EXPECT_LE(wanted, 1 + 1e-12) << what;
            const double p = static_cast<double>(hits) / heads;
            const double scatter = std::sqrt(std::max(wanted * (1 - wanted), 1 / heads) / heads);
            EXPECT_NEAR(p, wanted, 4.5 * scatter + of_its_own) << what;
        };
        agree(drawn.good, rates.good, 2 * rates.error, "good");
        agree(drawn.pass, rates.pass, 2 * rates.error + 2e-4, "pass");
        agree(drawn.fail, rates.fail, 2 * rates.error + 2e-4, "fail");
        agree(drawn.consumer, rates.consumer, 2 * rates.consumer_error, "bad and passed");
        agree(drawn.producer_fail, rates.producer_fail, 2 * rates.producer_fail_error, "good and failed");
        agree(drawn.producer_undecided, rates.producer_undecided, 2 * rates.error + 2e-4,
              "good and undecided");
        EXPECT_LE(rates.error, 5e-4) << name;
        const double scatter = std::sqrt(rates.good * (1 - rates.good) / heads);
        if (scatter > 0 && rates.error < scatter) {
            chi += std::pow((static_cast<double>(drawn.good) / heads - rates.good) / scatter, 2);
            ++count;
        }
    }
    // All of them together: a sum of squares that is neither too large nor too small (about one in 10 000
    // each).
    EXPECT_GT(count, 12);
    EXPECT_LT(chi, count + 4 * std::sqrt(2 * count));
    EXPECT_GT(chi, count - 3.2 * std::sqrt(2 * count));
}

}  // namespace
}  // namespace seatwright::forecast
