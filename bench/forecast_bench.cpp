// A batch of heads of eight valves: drawn, what the generator and its transforms alone reach, and integrated.
// The peer in NumPy that draws the same quantities is forecast_numpy.py beside it.
#include <benchmark/benchmark.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <ctime>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <stdexcept>
#include <string>

#include "forecast/many_batches.hpp"
#include "seatwright/batch/batch.hpp"
#include "seatwright/batch/draw_forecast.hpp"
#include "seatwright/forecast/draw.hpp"
#include "seatwright/forecast/integrate.hpp"
#include "seatwright/forecast/prepared.hpp"
#include "seatwright/forecast/transforms.hpp"
#include "seatwright/forecast/vectors.hpp"
#include "seatwright/job/reader.hpp"
#include "seatwright/plan/run.hpp"

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
void draw_numbers_alone() {
    constexpr std::uint32_t groups = 29, each = 8;
    constexpr int pairs = 43;
    forecast::Words words;
    alignas(64) forecast::Lane x, y;
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
}

void numbers_alone(benchmark::State& state) {
    for (auto _ : state) draw_numbers_alone();
    state.SetItemsProcessed(static_cast<std::int64_t>(heads) * state.iterations());
}
BENCHMARK(numbers_alone)->Unit(benchmark::kMillisecond);

double processor_time() {
    return static_cast<double>(std::clock()) / CLOCKS_PER_SEC;
}

// By turns, the least of many: what of the generator's own speed is left when heads are drawn, with
// distributions, verdicts and risks, on one thread.
void drawn_of_numbers_alone(benchmark::State& state) {
    const auto batch = forecast::test::full_batch();
    double drawn = 1e9, alone = 1e9;
    for (auto _ : state) {
        const double begun = processor_time();
        benchmark::DoNotOptimize(forecast::draw({batch, heads, 1, 1}));
        const double between = processor_time();
        draw_numbers_alone();
        drawn = std::min(drawn, between - begun);
        alone = std::min(alone, processor_time() - between);
    }
    state.counters["share"] = alone / drawn;
    state.counters["drawn_ms"] = 1e3 * drawn;
    state.counters["alone_ms"] = 1e3 * alone;
}
BENCHMARK(drawn_of_numbers_alone)->Iterations(20)->Unit(benchmark::kMillisecond);

// Both cores: the least wall time of many, and what both took of the processor then. Wall times hang on what
// else runs; the load stands in the figures' heading.
void drawn_on_two_threads(benchmark::State& state) {
    const auto batch = forecast::test::full_batch();
    double wall = 1e9, processor = 0;
    for (auto _ : state) {
        const double begun = processor_time();
        const auto clock = std::chrono::steady_clock::now();
        benchmark::DoNotOptimize(forecast::draw({batch, heads, 1, 2}));
        const double took = std::chrono::duration<double>(std::chrono::steady_clock::now() - clock).count();
        if (took < wall) {
            wall = took;
            processor = processor_time() - begun;
        }
    }
    state.counters["least_wall_ms"] = 1e3 * wall;
    state.counters["its_processor_ms"] = 1e3 * processor;
}
BENCHMARK(drawn_on_two_threads)->Iterations(20)->Unit(benchmark::kMillisecond)->UseRealTime();

// Heads a second of processor time that one process of NumPy draws (forecast_numpy.py); 0 without it.
double numpy_rate() {
    static const double known = [] {
        double rate = 0;
        if (FILE* pipe = popen("/usr/bin/python3 " SEATWRIGHT_ROOT "/bench/forecast_numpy.py 500000", "r")) {
            if (std::fscanf(pipe, "%lf heads", &rate) != 1) rate = 0;
            while (std::fgetc(pipe) != EOF) {  // it wants to be heard to the end
            }
            pclose(pipe);
        }
        return rate;
    }();
    return known;
}
const char* const no_numpy = "python3-numpy is not installed";

// The same batch drawn by NumPy: its processor time against ours on one thread, and against the time two
// threads take.
void drawn_of_numpy(benchmark::State& state) {
    const auto batch = forecast::test::full_batch();
    for (auto _ : state) {
        const double rate = numpy_rate();
        if (rate <= 0) {
            state.SkipWithError(no_numpy);
            return;
        }
        const double begun = processor_time();
        benchmark::DoNotOptimize(forecast::draw({batch, heads, 1, 1}));
        const double one = processor_time() - begun;
        const auto clock = std::chrono::steady_clock::now();
        benchmark::DoNotOptimize(forecast::draw({batch, heads, 1, 2}));
        const double two = std::chrono::duration<double>(std::chrono::steady_clock::now() - clock).count();
        state.counters["numpy_heads_a_second"] = rate;
        state.counters["times_as_fast_one_thread"] = static_cast<double>(heads) / one / rate;
        state.counters["times_as_fast_two_threads"] = static_cast<double>(heads) / two / rate;
    }
}
BENCHMARK(drawn_of_numpy)->Iterations(1)->Unit(benchmark::kSecond);

// Processor seconds NumPy would draw for until 95 % of its pass rates lie within 0.01 %, over those the
// integral took.
void against_numpy(benchmark::State& state, double rate, double seconds) {
    if (numpy_rate() <= 0) {
        state.SkipWithError(no_numpy);
        return;
    }
    constexpr double two_sided = 1.959964, wanted = 1e-4;
    const double wants = rate * (1 - rate) * std::pow(two_sided / wanted, 2) / numpy_rate();
    state.counters["pass_rate"] = rate;
    state.counters["ms"] = 1e3 * seconds;
    state.counters["numpy_seconds_to_as_much"] = wants;
    state.counters["times_sooner"] = wants / seconds;
}

void pass_rate_alone(benchmark::State& state) {
    const auto batch = forecast::test::full_batch();
    forecast::Effort effort;
    effort.verdict_points = 0;
    double least = 1e9, error = 0, good = 0;
    for (auto _ : state) {
        const double begun = processor_time();
        const auto rates = forecast::integrated(batch, effort);
        least = std::min(least, processor_time() - begun);
        error = rates.error;
        good = rates.good;
    }
    state.counters["error"] = error;
    against_numpy(state, good, least);
}
BENCHMARK(pass_rate_alone)->Unit(benchmark::kMillisecond);

void with_verdicts_and_risks(benchmark::State& state) {
    const auto batch = forecast::test::full_batch();
    for (auto _ : state) benchmark::DoNotOptimize(forecast::integrated(batch));
}
BENCHMARK(with_verdicts_and_risks)->Unit(benchmark::kMillisecond);

// Drawn against integrated over the batches of tests/forecast/many_batches.hpp, 1e8 heads each: how many of
// their joint standard errors (drawing, and what the integral says of its own) the rates and risks differ by.
void agreement(benchmark::State& state, const forecast::Batch& batch) {
    constexpr std::uint64_t many = 100'000'000;
    for (auto _ : state) {
        const auto rates = forecast::integrated(batch);
        const auto drawn = forecast::draw({batch, many, 9, 2});
        const double n = static_cast<double>(drawn.heads);
        const auto part = [&](std::uint64_t hits) { return static_cast<double>(hits) / n; };
        const auto off_by = [&](std::uint64_t hits, double p, double error) {
            const double q = part(hits), scatter = std::hypot(std::sqrt(q * (1 - q) / n), error / 1.96);
            return scatter > 0 ? (q - p) / scatter : 0;
        };
        const auto off = [&](std::uint64_t hits, double p) { return off_by(hits, p, rates.error); };
        state.counters["drawn"] = part(drawn.good);
        state.counters["integrated"] = rates.good;
        state.counters["bad_drawn"] = 1 - part(drawn.good);
        state.counters["bad_integrated"] = 1 - rates.good;
        state.counters["error"] = rates.error;
        state.counters["good_off"] = off(drawn.good, rates.good);
        if (!rates.judged) continue;
        state.counters["pass_off"] = off(drawn.pass, rates.pass);
        state.counters["fail_off"] = off(drawn.fail, rates.fail);
        state.counters["consumer_drawn"] = part(drawn.consumer);
        state.counters["consumer"] = rates.consumer;
        state.counters["producer_fail_drawn"] = part(drawn.producer_fail);
        state.counters["producer_fail"] = rates.producer_fail;
        state.counters["consumer_error"] = rates.consumer_error;
        state.counters["producer_fail_error"] = rates.producer_fail_error;
        state.counters["consumer_off"] = off_by(drawn.consumer, rates.consumer, rates.consumer_error);
        state.counters["producer_fail_off"] =
            off_by(drawn.producer_fail, rates.producer_fail, rates.producer_fail_error);
    }
}
[[maybe_unused]] const bool agreements = [] {
    for (const auto& [name, batch] : forecast::test::many_batches())
        benchmark::RegisterBenchmark(("agreement/" + name).c_str(),
                                     [batch = batch](benchmark::State& state) { agreement(state, batch); })
            ->Iterations(1)
            ->Unit(benchmark::kSecond);
    return true;
}();

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

std::string text_of(const std::string& file) {
    std::ifstream in(file);
    return {std::istreambuf_iterator<char>(in), {}};
}

job::Job example_job(const std::string& name) {
    const std::string root = SEATWRIGHT_ROOT;
    auto read = job::read_job(text_of(root + "/examples/" + name + "/job.toml"), "job.toml",
                              [&](const std::string&) { return text_of(root + "/shop/shop.toml"); });
    if (!read) throw std::runtime_error("an example cannot be read");
    return std::move(*read);
}

// What the page's server does for one movement of a hand over the posts' clearance, tables at hand: the rate
// to 0.05 %, the curve, causes and distributions, their drawings and the JSON.
void hand_followed(benchmark::State& state, const char* example) {
    const auto job = example_job(example);
    const std::shared_ptr<const job::Job> shared(std::shared_ptr<const job::Job>(), &job);
    plan::Run run(shared, {});
    const plan::Plan plan = run.plan();
    const auto as_it_is = forecast::prepared(job, plan, run.proof());
    forecast::Tables tables;
    (void)forecast::forecast(job, plan, as_it_is, tables);
    forecast::Asked asked;
    asked.changes = asked.limits = false;
    double clearance = 0.2, most_error = 0;
    for (auto _ : state) {
        clearance = clearance > 0.8 ? 0.2 : clearance + 0.013;
        forecast::Tried tried;
        tried.post_clearance = clearance;
        const auto found = forecast::forecast(job, plan, forecast::with(job, plan, as_it_is, tried), tables,
                                              asked, {true, {}});
        std::size_t bytes = batch::json_of(job, found).dump().size();
        for (const auto& figure : found.characteristics)
            bytes += batch::draw_distribution(figure, 70, {LengthUnit::mm}).embedded().size();
        bytes += batch::draw_forecast_causes(found.causes, 90, {LengthUnit::mm}).embedded().size();
        bytes += batch::draw_by_head(found, 200).embedded().size();
        benchmark::DoNotOptimize(bytes);
        most_error = std::max(most_error, found.pass_error.value_or(0));
        state.counters["kB"] = static_cast<double>(bytes) / 1000;
    }
    state.counters["error"] = most_error;
}
BENCHMARK_CAPTURE(hand_followed, canted, "canted")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(hand_followed, wedge, "wedge")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(hand_followed, pent_roof, "pent-roof")->Unit(benchmark::kMillisecond);

struct MadeReady {
    job::Job job;
    plan::Run run;
    plan::Plan plan;
    forecast::Prepared as;
    explicit MadeReady(const char* example)
        : job(example_job(example)),
          run(std::shared_ptr<const job::Job>(std::shared_ptr<const job::Job>(), &job), {}),
          plan(run.plan()),
          as(forecast::prepared(job, plan, run.proof())) {}
};

struct Reached {
    double ms = 1e9, error = 0, good = 0;
};

// From nothing kept: the pass rate, in the least time of a few.
Reached reached(const forecast::Batch& batch, double fineness) {
    forecast::Effort effort;
    effort.verdict_points = 0;
    effort.fineness = fineness;
    Reached out;
    for (int i = 0; i < 50; ++i) {
        const double begun = processor_time();
        const auto rates = forecast::integrated(batch, effort);
        out.ms = std::min(out.ms, 1e3 * (processor_time() - begun));
        out.error = rates.error;
        out.good = rates.good;
    }
    return out;
}

// Of a demonstration head: the pass rate as it is told (to 1e-6), and to the 0.01 % that NumPy is given, too.
void example_rate(benchmark::State& state, const char* example) {
    const MadeReady ready(example);
    const auto batch = forecast::batch_of(ready.job, ready.as.frame, ready.as.collected.known).batch;
    constexpr double rough = 1.25;  // said to 3e-5
    Reached fine, enough;
    for (auto _ : state) {
        fine = reached(batch, 1);
        enough = reached(batch, rough);
    }
    state.counters["told_ms"] = fine.ms;
    state.counters["told_error"] = fine.error;
    state.counters["error"] = enough.error;
    state.counters["off"] = enough.good - fine.good;
    against_numpy(state, enough.good, 1e-3 * enough.ms);
}

// With verdict, risks, curve, causes and distributions.
void example_told(benchmark::State& state, const char* example) {
    const MadeReady ready(example);
    forecast::Asked asked;
    asked.changes = asked.limits = false;
    for (auto _ : state) {
        forecast::Tables tables;
        benchmark::DoNotOptimize(forecast::forecast(ready.job, ready.plan, ready.as, tables, asked));
    }
}

// All of what helps most, tables of the forecast at hand.
void example_changes(benchmark::State& state, const char* example) {
    const MadeReady ready(example);
    forecast::Asked asked;
    asked.limits = false;
    double with = 1e9, without = 1e9;
    std::size_t many = 0;
    for (auto _ : state) {
        forecast::Tables tables;
        asked.changes = false;
        double begun = processor_time();
        benchmark::DoNotOptimize(forecast::forecast(ready.job, ready.plan, ready.as, tables, asked));
        without = std::min(without, processor_time() - begun);
        forecast::Tables others;
        asked.changes = true;
        begun = processor_time();
        many = forecast::forecast(ready.job, ready.plan, ready.as, others, asked).changes.size();
        with = std::min(with, processor_time() - begun);
    }
    state.counters["changes"] = static_cast<double>(many);
    state.counters["all_of_them_ms"] = 1e3 * (with - without);
}

[[maybe_unused]] const bool examples = [] {
    for (const char* name : {"wedge", "pent-roof", "canted"}) {
        using benchmark::RegisterBenchmark;
        const std::string of = std::string("/") + name;
        const auto with = [name](auto run) {
            return [name, run](benchmark::State& state) { run(state, name); };
        };
        RegisterBenchmark(("example_rate" + of).c_str(), with(example_rate))
            ->Iterations(1)
            ->Unit(benchmark::kMillisecond);
        RegisterBenchmark(("example_told" + of).c_str(), with(example_told))->Unit(benchmark::kMillisecond);
        RegisterBenchmark(("example_changes" + of).c_str(), with(example_changes))
            ->Iterations(5)
            ->Unit(benchmark::kMillisecond);
    }
    return true;
}();

}  // namespace
