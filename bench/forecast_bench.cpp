// A batch of heads of eight valves: drawn, what the generator and its transforms alone reach, and integrated.
// The peer in NumPy that draws the same quantities is forecast_numpy.py beside it.
#include <benchmark/benchmark.h>

#include <cmath>
#include <cstdio>

#include "forecast/many_batches.hpp"
#include "seatwright/forecast/draw.hpp"
#include "seatwright/forecast/integrate.hpp"
#include "seatwright/forecast/transforms.hpp"
#include "seatwright/forecast/vectors.hpp"

namespace {

using namespace seatwright;
using forecast::lanes;

constexpr std::uint64_t heads = 1'000'000;

void heads_drawn(benchmark::State& state) {
    const auto batch = forecast::test::full_batch();
    for (auto _ : state)
        benchmark::DoNotOptimize(forecast::draw({batch, heads, 1, static_cast<int>(state.range(0))}));
    state.SetItemsProcessed(static_cast<std::int64_t>(heads) * state.iterations());
}
BENCHMARK(heads_drawn)->Arg(1)->Arg(2)->Unit(benchmark::kMillisecond)->UseRealTime();

// What the drawing of that batch takes, and nothing else: 29 groups of counters a head (two a seat, two for
// two seats, two a setup, one for the zeros), of them 43 pairs of normals, 8 places in a disc, 8 directions.
SEATWRIGHT_VECTORS
void numbers_alone(benchmark::State& state) {
    constexpr std::uint32_t groups = 29, each = 8;
    constexpr int pairs = 43;
    forecast::Words words;
    forecast::Lane x, y;
    for (auto _ : state)
        for (std::uint64_t first = 0; first < heads; first += lanes) {
            int left = pairs;
            for (std::uint32_t group = 0; group < groups; ++group) {
                forecast::philox(1, first, group, words);
                for (int half = 0; half < 2 && left > 0; ++half, --left) {
                    half == 0 ? forecast::normals(words.a, words.b, x, y)
                              : forecast::normals(words.c, words.d, x, y);
                    benchmark::DoNotOptimize(x);
                    benchmark::DoNotOptimize(y);
                }
                if (group >= each) continue;
                forecast::in_disc(words.a, words.b, x, y);
                benchmark::DoNotOptimize(x);
                forecast::directions_of(words.c, x, y);
                benchmark::DoNotOptimize(y);
            }
        }
    state.SetItemsProcessed(static_cast<std::int64_t>(heads) * state.iterations());
}
BENCHMARK(numbers_alone)->Unit(benchmark::kMillisecond);

void pass_rate_alone(benchmark::State& state) {
    const auto batch = forecast::test::full_batch();
    forecast::Effort effort;
    effort.verdict_points = 0;
    for (auto _ : state) {
        const auto rates = forecast::integrated(batch, effort);
        state.counters["error"] = rates.error;
    }
}
BENCHMARK(pass_rate_alone)->Unit(benchmark::kMillisecond);

void with_verdicts_and_risks(benchmark::State& state) {
    const auto batch = forecast::test::full_batch();
    for (auto _ : state) benchmark::DoNotOptimize(forecast::integrated(batch));
}
BENCHMARK(with_verdicts_and_risks)->Unit(benchmark::kMillisecond);

// Drawn against integrated over the batches of tests/forecast/many_batches.hpp, 1e8 heads each: by how many
// of its standard errors the worst pass rate differs.
void agreement(benchmark::State& state) {
    double worst = 0;
    for (auto _ : state)
        for (const auto& [name, batch] : forecast::test::many_batches()) {
            const auto rates = forecast::integrated(batch);
            const auto drawn = forecast::draw({batch, static_cast<std::uint64_t>(state.range(0)), 9, 2});
            const double n = static_cast<double>(drawn.heads), p = static_cast<double>(drawn.good) / n;
            const double scatter = std::hypot(std::sqrt(p * (1 - p) / n), rates.error / 1.96);
            if (scatter > 0) worst = std::max(worst, std::abs(p - rates.good) / scatter);
            std::printf("%-50s drawn %.6f integrated %.6f +- %.1e\n", name.c_str(), p, rates.good,
                        rates.error);
        }
    state.counters["worst_in_standard_errors"] = worst;
}
BENCHMARK(agreement)->Arg(1'000'000)->Arg(100'000'000)->Iterations(1)->Unit(benchmark::kSecond);

// One figure changed, tables of the forecast before at hand: what a drag asks for.
void what_if(benchmark::State& state) {
    auto batch = forecast::test::full_batch();
    forecast::Effort effort;
    effort.verdict_points = 0;
    effort.points = effort.most_points = 64;
    effort.fineness = 1.25;
    forecast::Tables tables;
    (void)forecast::integrated(batch, effort, &tables);
    for (auto _ : state) {
        batch.depth_sd = batch.depth_sd > 0.011 ? 0.010 : 0.012;
        const auto rates = forecast::integrated(batch, effort, &tables);
        state.counters["error"] = rates.error;
    }
}
BENCHMARK(what_if)->Unit(benchmark::kMillisecond);

}  // namespace
