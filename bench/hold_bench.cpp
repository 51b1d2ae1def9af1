// Setups and the whole hold stage. Figures in docs/setups.md come from here.
#include <benchmark/benchmark.h>

#include <random>

#include "seatwright/hold/hold.hpp"
#include "seatwright/hold/setups.hpp"

namespace {

using namespace seatwright;

double uniform(std::mt19937_64& random, double low, double high) {
    return low + (high - low) * (static_cast<double>(random() >> 11) * 0x1p-53);
}

std::vector<Vec3> guides(std::size_t count, std::size_t directions, double most_deg, std::uint64_t seed) {
    std::mt19937_64 random(seed);
    std::vector<Vec3> kinds, out;
    for (std::size_t d = 0; d < directions; ++d)
        kinds.push_back(
            guide_axis(rad(uniform(random, -most_deg, most_deg)), rad(uniform(random, -most_deg, most_deg))));
    for (std::size_t i = 0; i < count; ++i) out.push_back(kinds[i % directions]);
    return out;
}

// Arguments: directions, plumb limit in hundredths of a degree, limited ranges (0 or 1). 128 guides spread
// over ±12 deg.
void setups(benchmark::State& state) {
    const auto directions = static_cast<std::size_t>(state.range(0));
    const double limit = rad(static_cast<double>(state.range(1)) / 100);
    const hold::Reach free{{-pi / 2, pi / 2}, {-pi, pi}};
    const hold::Reach limited{{rad(-12), rad(10)}, {rad(-8), rad(12)}};
    const auto& reach = state.range(2) == 0 ? free : limited;
    std::uint64_t seed = 1;
    double count = 0, proven = 0, fewest = 0, runs = 0;
    for (auto _ : state) {
        state.PauseTiming();
        const auto axes = guides(128, directions, 12, seed++ % 50);
        state.ResumeTiming();
        const auto plan = hold::plan_setups(axes, reach, limit);
        count += static_cast<double>(plan.groups.size());
        proven += plan.proven ? 1 : 0;
        fewest += plan.at_least == plan.groups.size() ? 1 : 0;
        runs += 1;
    }
    state.counters["setups"] = count / runs;
    state.counters["proven"] = proven / runs;
    state.counters["fewest"] = fewest / runs;
}
BENCHMARK(setups)
    ->Unit(benchmark::kMicrosecond)
    ->ArgNames({"directions", "limit", "ranges"})
    ->ArgsProduct({{16}, {5, 50, 200, 400, 600, 800, 1200}, {0, 1}})
    ->ArgsProduct({{128}, {5, 50, 100, 150, 200, 300, 400, 600, 800, 1200}, {0}});

void whole_stage(benchmark::State& state) {
    job::Job job;
    const auto axes = static_cast<std::size_t>(state.range(0));
    for (std::size_t i = 0; i < axes; ++i) {
        job::Valve valve;
        valve.id = std::to_string(i);
        valve.seat = Vec3(static_cast<double>(i) * 20, i % 2 == 0 ? 20 : -20, -8);
        valve.incline = rad(i % 2 == 0 ? 18 : -18);
        job.head.valves.push_back(valve);
    }
    for (int k = 0; k < 20; ++k)
        for (const double y : {-50.0, 50.0}) job.head.bolt_holes.emplace_back(k * 40.0, y);
    job.head.mass = 20;
    job.fixture.tilt = {rad(-30), rad(50)};
    job.fixture.plumb_limit = rad(0.05);
    job.fixtures = {job.fixture, job.fixture, job.fixture};
    for (auto _ : state) benchmark::DoNotOptimize(hold::plan(job));
}
BENCHMARK(whole_stage)->Unit(benchmark::kMicrosecond)->Arg(32)->Arg(128);

}  // namespace
