// cut on a 32-valve head: the whole stage with programs and their read-back, and its parts.
#include <benchmark/benchmark.h>

#include "../tests/cut/shaped.hpp"
#include "seatwright/cut/chatter.hpp"
#include "seatwright/cut/order.hpp"
#include "seatwright/cut/program.hpp"
#include "seatwright/cut/readback.hpp"
#include "seatwright/cut/seat_plan.hpp"
#include "seatwright/cut/sequence.hpp"

namespace {

using namespace seatwright;

const fixtures::Shaped& head() {
    static const fixtures::Shaped shaped = [] {
        auto job = fixtures::pent_roof_job(8);
        job.machine.travel_x = 1200;
        job.machine.travel_z = 500;
        // One file for each cutter in each setup, all its seats in it.
        job.machine.trim = job::TrimAt::control;
        return fixtures::shaped(fixtures::with_guides_read(job));
    }();
    return shaped;
}

void whole_stage(benchmark::State& state) {
    std::size_t seats = 0;
    for (const cut::Program& program : head().plan().programs)
        for (const cut::Stop& stop : program.route.stops) seats += stop.short_cut ? 0 : 1;
    if (head().job.head.valves.size() != 32 || seats != 32)
        state.SkipWithError("not a 32-valve head with all its seats in programs");
    for (auto _ : state) benchmark::DoNotOptimize(head().plan());
}
BENCHMARK(whole_stage)->Unit(benchmark::kMicrosecond);

void speeds_and_feeds(benchmark::State& state) {
    for (auto _ : state) benchmark::DoNotOptimize(cut::plan_seats(head().job, head().find, head().shape));
}
BENCHMARK(speeds_and_feeds)->Unit(benchmark::kMicrosecond);

void order(benchmark::State& state) {
    const auto seats = cut::plan_seats(head().job, head().find, head().shape);
    for (auto _ : state)
        benchmark::DoNotOptimize(cut::sequence_seats(head().job, head().hold, head().shape, seats));
}
BENCHMARK(order)->Unit(benchmark::kMicrosecond);

void write_program(benchmark::State& state) {
    const auto plan = head().plan();
    const auto& route = plan.programs[0].route;
    for (auto _ : state)
        benchmark::DoNotOptimize(cut::write_program(head().job, head().hold.setups[route.setup], route));
}
BENCHMARK(write_program)->Unit(benchmark::kMicrosecond);

void read_back(benchmark::State& state) {
    const auto plan = head().plan();
    const cut::Program& program = plan.programs.at(0);
    const hold::Setup& setup = head().hold.setups[program.route.setup];
    for (auto _ : state) {
        const auto expected = cut::expected_in({head().job, head().hold, head().find, head().shape}, setup);
        benchmark::DoNotOptimize(cut::read_back(program.text, head().job, program.route, expected));
    }
}
BENCHMARK(read_back)->Unit(benchmark::kMicrosecond);

void chatter_chart(benchmark::State& state) {
    const cut::Lobes lobes{{180, 12'000, 0.04}, 2200, 1};
    for (auto _ : state) {
        double sum = 0;
        for (int i = 0; i <= 240; ++i) sum += cut::stable_width(lobes, 60 + 2 * i);
        benchmark::DoNotOptimize(sum);
    }
}
BENCHMARK(chatter_chart)->Unit(benchmark::kMicrosecond);

}  // namespace
