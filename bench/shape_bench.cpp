// The shape stage in process: sections, depth plan, cutters, bridges and fits, without papers.
#include <benchmark/benchmark.h>

#include "../tests/job_fixtures.hpp"
#include "seatwright/hold/hold.hpp"
#include "seatwright/shape/before.hpp"
#include "seatwright/shape/bridge.hpp"
#include "seatwright/shape/depth_lp.hpp"
#include "seatwright/shape/depth_plan.hpp"
#include "seatwright/shape/depth_steps.hpp"
#include "seatwright/shape/shape.hpp"

namespace {

using namespace seatwright;

// 32 valves of a pent roof, every seat read, stem and chamber spreads to keep.
job::Job job_of(int cylinders) {
    job::Job job = fixtures::pent_roof_job(cylinders);
    job.depth.stem_spread = 0.3;
    job.depth.chamber_spread = 300;
    for (std::size_t v = 0; v < job.head.valves.size(); ++v) {
        job::SeatBefore r;
        r.valve = job.head.valves[v].id;
        r.stem_height = 47.5 + 0.01 * double(v * 7 % 17);
        r.recession = 0.05 * double(v % 5);
        r.cleanup = 0.05 + 0.013 * double(v * 5 % 13);
        r.chamber = 45'000 + 90.0 * double(job.head.valves[v].cylinder * 3 % 7);
        for (int i = 0; i < 40; ++i) r.section.emplace_back(13 + 0.12 * i, -2.2 + 0.1 * i);
        job.readings.seats.push_back(r);
    }
    return job;
}

void shape_of_a_head(benchmark::State& state) {
    const job::Job job = job_of(static_cast<int>(state.range(0)));
    const hold::Hold hold;
    for (auto _ : state) benchmark::DoNotOptimize(shape::design(job, hold, {}, "1"));
    state.SetLabel(std::to_string(job.head.valves.size()) + " valves");
}
BENCHMARK(shape_of_a_head)->Arg(2)->Arg(4)->Arg(8)->Arg(32)->Unit(benchmark::kMicrosecond);

void linear_program(benchmark::State& state) {
    const auto before = shape::before_cutting(job_of(8), {}, "1");
    for (auto _ : state) benchmark::DoNotOptimize(shape::solve_depths(before.problem));
}
BENCHMARK(linear_program)->Unit(benchmark::kMicrosecond);

void whole_steps(benchmark::State& state) {
    const auto before = shape::before_cutting(job_of(8), {}, "1");
    for (auto _ : state) benchmark::DoNotOptimize(shape::solve_depths_in_steps(before.problem));
}
BENCHMARK(whole_steps)->Unit(benchmark::kMicrosecond);

void distance_of_two_circles(benchmark::State& state) {
    const job::Job job = job_of(4);
    const auto a = shape::circle_of(job.head.valves[0], Vec2(15, 1), 0.1),
               b = shape::circle_of(job.head.valves[1], Vec2(18, 1), 0.2);
    for (auto _ : state) benchmark::DoNotOptimize(shape::bridge_between(a, b));
}
BENCHMARK(distance_of_two_circles)->Unit(benchmark::kMicrosecond);

}  // namespace
