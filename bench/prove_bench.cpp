// What prove costs: the four reference circles of a trace, its harmonics, a whole head, a whole batch.
// Invented readings.
#include <benchmark/benchmark.h>

#include <cmath>
#include <random>
#include <string>

#include "../tests/job_fixtures.hpp"
#include "seatwright/base/numerics/reference_circles.hpp"
#include "seatwright/prove/harmonics.hpp"
#include "seatwright/prove/prove.hpp"

namespace {

using namespace seatwright;

std::vector<double> trace(std::size_t points, unsigned seed) {
    std::mt19937_64 random(seed);
    std::normal_distribution<double> normal(0, 0.0004);
    std::vector<double> out;
    for (std::size_t i = 0; i < points; ++i) {
        const double t = 2 * pi * static_cast<double>(i) / static_cast<double>(points);
        out.push_back(0.012 * std::cos(t - 1) + 0.005 * std::cos(2 * t) + 0.003 * std::cos(3 * t + 2) +
                      normal(random));
    }
    return out;
}

void four_circles(benchmark::State& state) {
    const auto turn = prove::turn_of(trace(static_cast<std::size_t>(state.range(0)), 1), {});
    for (auto _ : state) benchmark::DoNotOptimize(numerics::reference_circles(turn));
}
BENCHMARK(four_circles)->Arg(360)->Arg(3600)->Arg(100'000)->Unit(benchmark::kMicrosecond);

void harmonics(benchmark::State& state) {
    const auto turn = prove::turn_of(trace(static_cast<std::size_t>(state.range(0)), 2), {});
    for (auto _ : state) benchmark::DoNotOptimize(prove::fit_harmonics(turn));
}
BENCHMARK(harmonics)->Arg(360)->Arg(3600)->Arg(100'000)->Unit(benchmark::kMicrosecond);

void harmonics_over_a_gap(benchmark::State& state) {
    const auto n = static_cast<std::size_t>(state.range(0));
    std::vector<double> angles;
    for (std::size_t i = 0; i < n; ++i)
        angles.push_back(rad(270) * static_cast<double>(i) / static_cast<double>(n));
    const auto turn = prove::turn_of(trace(n, 3), angles);
    for (auto _ : state) benchmark::DoNotOptimize(prove::fit_harmonics(turn));
}
BENCHMARK(harmonics_over_a_gap)->Arg(3600)->Unit(benchmark::kMicrosecond);

job::Job measured(int heads, std::size_t points) {
    job::Job job = fixtures::wedge_job(16, 60);
    unsigned seed = 1;
    for (int h = 1; h <= heads; ++h)
        for (const auto& v : job.head.valves) {
            job::SeatAfter r;
            r.head = std::to_string(h);
            r.valve = v.id;
            r.trace = trace(points, seed++);
            r.width = {1.5, 1.52};
            r.stem_height = 48;
            r.gauge_u = 0.001;
            job.readings.proofs.push_back(std::move(r));
        }
    return job;
}

void whole_head(benchmark::State& state) {
    const auto job = measured(1, 3600);
    for (auto _ : state) benchmark::DoNotOptimize(prove::judge(job));
}
BENCHMARK(whole_head)->Unit(benchmark::kMillisecond);

void whole_batch(benchmark::State& state) {
    const auto job = measured(100, 72);
    for (auto _ : state) benchmark::DoNotOptimize(prove::judge(job));
}
BENCHMARK(whole_batch)->Unit(benchmark::kMillisecond);

}  // namespace
