// The main promise: a 32-valve head planned in ≤ 5 ms in process, ≤ 40 ms as a whole process, ≤ 400 ms with
// all its papers. Run with --benchmark_repetitions=9 and read the medians. The stages stand beside the whole,
// so that the figures name what dominates.
#include <benchmark/benchmark.h>
#include <spawn.h>
#include <sys/wait.h>

#include <chrono>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>

#include "../tests/job_fixtures.hpp"
#include "seatwright/job/reader.hpp"
#include "seatwright/papers/bundle.hpp"
#include "seatwright/plan/plan.hpp"

extern char** environ;

namespace {

using namespace seatwright;

// Eight cylinders of four valves, six touches in each row, every seat read.
job::Job thirty_two_valves() {
    job::Job job = fixtures::pent_roof_job(8);
    for (const auto& valve : job.head.valves) {
        job::SeatBefore seat;
        seat.valve = valve.id;
        seat.stem_height = 47.5;
        seat.recession = 0.1;
        seat.cleanup = 0.1 + 0.005 * valve.cylinder;
        seat.chamber = 52'000;
        job.readings.seats.push_back(seat);
    }
    const auto hold = hold::plan(job);
    for (const auto& setup : hold.setups)
        for (std::size_t i = 0; i < setup.valves.size(); i += 3) {
            job::Touch touch;
            touch.valve = job.head.valves[setup.valves[i].valve].id;
            touch.at = setup.valves[i].readout + Vec2(0.02, -0.01);
            job.readings.touches.push_back(touch);
        }
    return job;
}

void plan_in_process(benchmark::State& state) {
    const auto job = thirty_two_valves();
    for (auto _ : state) benchmark::DoNotOptimize(plan::make_plan(job));
    state.counters["valves"] = static_cast<double>(job.head.valves.size());
}
BENCHMARK(plan_in_process)->Unit(benchmark::kMillisecond);

void hold_alone(benchmark::State& state) {
    const auto job = thirty_two_valves();
    for (auto _ : state) benchmark::DoNotOptimize(hold::plan(job));
}
BENCHMARK(hold_alone)->Unit(benchmark::kMillisecond);

void find_alone(benchmark::State& state) {
    const auto job = thirty_two_valves();
    const auto hold = hold::plan(job);
    for (auto _ : state) benchmark::DoNotOptimize(find::locate(job, hold));
}
BENCHMARK(find_alone)->Unit(benchmark::kMillisecond);

void shape_alone(benchmark::State& state) {
    const auto job = thirty_two_valves();
    const auto hold = hold::plan(job);
    const auto find = find::locate(job, hold);
    for (auto _ : state) benchmark::DoNotOptimize(shape::design(job, hold, find, "1"));
}
BENCHMARK(shape_alone)->Unit(benchmark::kMillisecond);

void cut_alone(benchmark::State& state) {
    const auto job = thirty_two_valves();
    const auto hold = hold::plan(job);
    const auto find = find::locate(job, hold);
    const auto shape = shape::design(job, hold, find, "1");
    for (auto _ : state) benchmark::DoNotOptimize(cut::plan(job, hold, find, shape));
}
BENCHMARK(cut_alone)->Unit(benchmark::kMillisecond);

void papers_alone(benchmark::State& state) {
    const auto job = thirty_two_valves();
    const auto plan = plan::make_plan(job);
    for (auto _ : state) benchmark::DoNotOptimize(papers::plan_bundle(job, plan, {}, {}));
}
BENCHMARK(papers_alone)->Unit(benchmark::kMillisecond);

// Runs the program, standard output thrown away; seconds from spawn to exit.
double seconds_of(const std::vector<std::string>& words) {
    std::vector<char*> argv;
    for (const auto& w : words) argv.push_back(const_cast<char*>(w.c_str()));
    argv.push_back(nullptr);
    posix_spawn_file_actions_t actions;
    posix_spawn_file_actions_init(&actions);
    posix_spawn_file_actions_addopen(&actions, 1, "/dev/null", 1 /* O_WRONLY */, 0);
    const auto start = std::chrono::steady_clock::now();
    pid_t child = 0;
    int status = 0;
    if (posix_spawn(&child, argv[0], &actions, nullptr, argv.data(), environ) != 0) std::abort();
    waitpid(child, &status, 0);
    const std::chrono::duration<double> took = std::chrono::steady_clock::now() - start;
    posix_spawn_file_actions_destroy(&actions);
    const int code = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    if (code != 0 && code != 3) std::abort();
    return took.count();
}

const std::string job_file = SEATWRIGHT_ROOT "/bench/thirty_two_valves.toml";

// What every command pays before it does anything, and what any process does.
void start_alone(benchmark::State& state) {
    for (auto _ : state) state.SetIterationTime(seconds_of({SEATWRIGHT_BINARY, "--version"}));
}
BENCHMARK(start_alone)->UseManualTime()->Unit(benchmark::kMillisecond);

void any_process(benchmark::State& state) {
    for (auto _ : state) state.SetIterationTime(seconds_of({"/bin/true"}));
}
BENCHMARK(any_process)->UseManualTime()->Unit(benchmark::kMillisecond);

void whole_process(benchmark::State& state) {
    for (auto _ : state) state.SetIterationTime(seconds_of({SEATWRIGHT_BINARY, "plan", job_file, "--json"}));
}
BENCHMARK(whole_process)->UseManualTime()->Unit(benchmark::kMillisecond);

void whole_process_with_papers(benchmark::State& state) {
    const auto folder = std::filesystem::temp_directory_path() / "seatwright-bench-papers";
    for (auto _ : state)
        state.SetIterationTime(seconds_of({SEATWRIGHT_BINARY, "plan", job_file, "--out", folder.string()}));
    std::filesystem::remove_all(folder);
}
BENCHMARK(whole_process_with_papers)->UseManualTime()->Unit(benchmark::kMillisecond);

}  // namespace
