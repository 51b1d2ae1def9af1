// find: how fast, and how well it keeps its promises on simulated heads (the rates quoted in docs/suspects.md
// and docs/find.md are this program's counters). Invented data.
#include <benchmark/benchmark.h>

#include <cmath>
#include <string>

#include "../tests/find/simulation.hpp"
#include "../tests/job_fixtures.hpp"
#include "seatwright/find/assign.hpp"
#include "seatwright/find/find.hpp"

namespace {

using namespace seatwright;

// `heads` heads of a 32-valve pent roof, eight touches each, as one job.
job::Job many_heads(int cylinders, int heads) {
    job::Job job = fixtures::pent_roof_job(cylinders);
    for (int h = 1; h <= heads; ++h) {
        simulation::Draw draw(static_cast<std::uint64_t>(h), 51);
        for (std::size_t v = 0; v < job.head.valves.size(); v += 4) {
            const Vec3 at = job.head.valves[v].seat - job.head.valves[v % 2].seat;
            job.readings.touches.push_back({std::to_string(h), job.head.valves[v].id,
                                            Vec2(at.x(), at.y()) + draw.vec(0.08), std::nullopt, 0});
        }
    }
    return job;
}

// One setup holding every valve: the largest find has to deal with.
hold::Hold one_setup(const job::Job& job, bool posts) {
    hold::Hold hold;
    hold::Setup& setup = hold.setups.emplace_back();
    setup.id = "A";
    for (std::size_t v = 0; v < job.head.valves.size(); ++v) {
        hold::Held& held = setup.valves.emplace_back();
        held.valve = v;
        held.map = job.head.valves[v].seat - job.head.valves.front().seat;
        held.readout = held.map.head<2>();
    }
    if (posts) {
        hold::Posts& two = hold.posts.emplace();
        two.span = 700;
        two.b = {700, 0};
        two.clearance = 0.5;
        two.position_sd = 0.125;
        two.yaw_sd = std::sqrt(2.0) * 0.125 / 700;
    }
    return hold;
}

void locate_32_valves(benchmark::State& state) {
    const job::Job job = many_heads(8, 1);
    const hold::Hold hold = one_setup(job, state.range(0) != 0);
    for (auto _ : state) benchmark::DoNotOptimize(find::locate(job, hold));
}
BENCHMARK(locate_32_valves)->Arg(0)->Arg(1)->Unit(benchmark::kMillisecond);

void locate_heads_of_16_valves(benchmark::State& state) {
    const job::Job job = many_heads(4, static_cast<int>(state.range(0)));
    const hold::Hold hold = one_setup(job, false);
    for (auto _ : state) benchmark::DoNotOptimize(find::locate(job, hold));
}
BENCHMARK(locate_heads_of_16_valves)->Arg(100)->Arg(10000)->Unit(benchmark::kMillisecond);

void assign_six_of_24(benchmark::State& state) {
    std::uint64_t trial = 0;
    for (auto _ : state) {
        simulation::Draw draw(trial++, 12);
        simulation::Kind kind{"", simulation::rows(12, 60, 30, 20, 0.05), {0, 3, 8, 13, 16, 23}, 0.02, {}, 3};
        if (trial % 2 == 0) kind.prior.yaw_sd = 0.004;
        std::vector<find::Unlabelled> touches;
        for (const auto& r : simulation::draw_head(kind, draw).readings) touches.push_back({0, r.at, r.sd});
        benchmark::DoNotOptimize(find::assign_unlabelled(kind.guides, {}, touches, kind.prior));
    }
}
BENCHMARK(assign_six_of_24)->Unit(benchmark::kMillisecond);

void suspects(benchmark::State& state) {
    const auto kind = simulation::kinds()[static_cast<std::size_t>(state.range(0))];
    constexpr std::size_t heads = 10000, honest_heads = 200000;
    for (auto _ : state) {
        const auto one = simulation::missed_errors(kind, heads, 1, 8, 2);
        const auto pair = simulation::missed_errors(kind, heads, 2, 10, 3);
        const std::size_t honest = simulation::false_alarms(kind, honest_heads, 1);
        state.counters["false_alarm_%"] = 100.0 * static_cast<double>(honest) / honest_heads;
        state.counters["missed_%"] = 100.0 * static_cast<double>(one.missed) / heads;
        state.counters["pair_missed_%"] = 100.0 * static_cast<double>(pair.missed) / heads;
        state.counters["pair_good_lost_%"] = 100.0 * static_cast<double>(pair.good_lost) / heads;
    }
    state.SetLabel(kind.name);
}
BENCHMARK(suspects)->Arg(0)->Arg(2)->Arg(4)->Iterations(1)->Unit(benchmark::kSecond);

void calibration(benchmark::State& state) {
    const auto kind = simulation::kinds()[static_cast<std::size_t>(state.range(0))];
    for (auto _ : state) {
        const auto result = simulation::calibrate(kind, 20000, 4);
        state.counters["covered_%"] =
            100.0 * static_cast<double>(result.covered) / static_cast<double>(result.guides);
        double worst = 0;
        for (const auto& bin : result.bins)
            if (bin.variance > 0)
                worst = std::max(worst, std::abs(static_cast<double>(bin.entered) - bin.predicted) /
                                            std::sqrt(bin.variance));
        state.counters["worst_bin_sd"] = worst;
    }
    state.SetLabel(kind.name);
}
BENCHMARK(calibration)->DenseRange(0, 4)->Iterations(1)->Unit(benchmark::kSecond);

}  // namespace
