// A batch of heads of eight valves: drawn, what the generator and its transforms alone reach, and integrated.
// The peer in NumPy that draws the same quantities is forecast_numpy.py beside it.
#include <benchmark/benchmark.h>

#include "forecast/full_batch.hpp"
#include "seatwright/forecast/draw.hpp"
#include "seatwright/forecast/integrate.hpp"
#include "seatwright/forecast/transforms.hpp"

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

// Four counters a seat, two a setup, one for the zeros: 39 for eight valves in two setups and 128 numbers, as
// the drawing takes them.
void numbers_alone(benchmark::State& state) {
    constexpr std::uint32_t groups = 37;
    forecast::Words words;
    forecast::Lane x, y;
    for (auto _ : state)
        for (std::uint64_t first = 0; first < heads; first += lanes)
            for (std::uint32_t group = 0; group < groups; ++group) {
                forecast::philox(1, first, group, words);
                forecast::normals(words.a, words.b, x, y);
                benchmark::DoNotOptimize(x);
                forecast::normals(words.c, words.d, x, y);
                benchmark::DoNotOptimize(y);
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

// One figure changed, tables of the forecast before at hand: what a drag asks for.
void what_if(benchmark::State& state) {
    auto batch = forecast::test::full_batch();
    forecast::Effort effort;
    effort.verdict_points = 0;
    effort.points = effort.most_points = 64;
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
