// What one more reading costs the server in a job of so many heads: processor time from the stored entry to
// the text of the delta a page gets of it, all stages worked out, lessons redone when they fall due.
//
// Eighteen readings a head: six touches, four guides, four seats, four proofs, each head lying a little
// otherwise. The entries that are timed go on head after head, valve after valve, and the page is on the head
// before its first reading (what that page load costs is not timed). The counters part the mean: `source`
// (what is stored, what of it counts, the job as the stages read it), the stages, `page` (the delta). Only a
// reading that a stage reads makes it work.
#include <benchmark/benchmark.h>

#include <fmt/format.h>

#include "../tests/server/many_heads.hpp"
#include "server/answers/job_state.hpp"
#include "server/intake/edits.hpp"
#include "server_job.hpp"

namespace {

using namespace seatwright;
using namespace seatwright::server;

struct Shop {
    TestShop shop;
    store::Person pat = shop.bench->people.all().front();
    long long id = 0;
    explicit Shop(int heads) : id(job_of_heads(shop, job_of_32(shop, SEATWRIGHT_ROOT), heads)) {}
};

void one_reading(benchmark::State& state) {
    const int heads = static_cast<int>(state.range(0));
    Shop shop(heads);
    Workbench& bench = *shop.shop.bench;
    const auto drawn = bench.cache.stored(shop.id)->document;
    Heads of(*drawn);
    std::vector<double> all;
    constexpr std::array<const char*, 7> names{"source", "hold", "find", "shape", "cut", "prove", "page"};
    std::array<double, names.size()> parts{};
    std::size_t told = 0;
    std::string key;
    int n = 0;
    for (auto _ : state) {
        store::NewEntry entry = of.reading(heads + 1 + n / readings_of_a_head, n % readings_of_a_head);
        entry.client_key += "-timed";
        const StateAsked page{entry.head, std::nullopt};
        if (n++ % readings_of_a_head == 0) {
            state_text(bench, shop.id, page);
            key = key_of(*bench.cache.stored(shop.id));
        }
        if (!bench.entries.append(shop.pat, shop.id, entry)) std::abort();
        std::array<double, names.size() + 1> at{cpu_ms()};
        const auto stored = bench.cache.stored(shop.id);
        const auto computation = bench.cache.computation(stored, entry.head);
        at[1] = cpu_ms();
        constexpr std::array stages{job::Stage::hold, job::Stage::find, job::Stage::shape, job::Stage::cut,
                                    job::Stage::prove};
        for (std::size_t s = 0; s < stages.size(); ++s) {
            computation->needs(stages[s]);
            at[2 + s] = cpu_ms();
        }
        const auto delta = delta_text(bench, shop.id, page, key);
        at[7] = cpu_ms();
        if (!delta) std::abort();
        told += delta->size();
        key = key_of(*stored);
        all.push_back(at[7] - at[0]);
        for (std::size_t i = 0; i < parts.size(); ++i) parts[i] += at[i + 1] - at[i];
        state.SetIterationTime(1e-3 * all.back());
    }
    std::sort(all.begin(), all.end());
    const auto count = static_cast<double>(all.size());
    state.counters["p99_ms"] = all[static_cast<std::size_t>(0.99 * (count - 1))];
    state.counters["most_ms"] = all.back();
    for (std::size_t i = 0; i < parts.size(); ++i) state.counters[names[i]] = parts[i] / count;
    state.counters["delta_kB"] = static_cast<double>(told) / count / 1e3;
}
BENCHMARK(one_reading)
    ->Arg(10)
    ->Arg(100)
    ->Arg(1000)
    ->Arg(9'800)  // and 112 more while it runs: a job has 10 000 at most
    ->Iterations(2000)
    ->UseManualTime()
    ->Unit(benchmark::kMillisecond);

// A touch of the first head corrected, the page on the last: processor time from the stored entry to the
// delta text, all heads after it learning anew.
void old_head(benchmark::State& state) {
    const int heads = static_cast<int>(state.range(0));
    Shop shop(heads);
    Workbench& bench = *shop.shop.bench;
    const StateAsked page{std::to_string(heads), std::nullopt};
    long long touch = bench.cache.stored(shop.id)->entries[0].id;
    double most = 0;
    for (auto _ : state) {
        state_text(bench, shop.id, page);
        const auto before = bench.cache.stored(shop.id);
        const auto old = bench.entries.one(shop.id, touch);
        const auto corrected = bench.entries.append(shop.pat, shop.id, moved(*old, 0.004));
        if (!corrected) std::abort();
        touch = corrected->entry.id;
        const double from = cpu_ms();
        if (!delta_text(bench, shop.id, page, key_of(*before))) std::abort();
        const double took = cpu_ms() - from;
        most = std::max(most, took);
        state.SetIterationTime(1e-3 * took);
    }
    state.counters["most_ms"] = most;
}
BENCHMARK(old_head)->Arg(100)->Arg(1000)->Iterations(10)->UseManualTime()->Unit(benchmark::kMillisecond);

// A width of a seat dragged, not stored, the page on the last head: the text is edited and read again, shape
// worked out and told.
void facet_dragged(benchmark::State& state) {
    const int heads = static_cast<int>(state.range(0));
    Shop shop(heads);
    Workbench& bench = *shop.shop.bench;
    const auto stored = bench.cache.stored(shop.id);
    const std::string head = std::to_string(heads);
    state_text(bench, shop.id, {head, std::nullopt});
    int n = 0;
    double most = 0;
    for (auto _ : state) {
        const double from = cpu_ms();
        const std::vector<Edit> edits{{"seat.intake.width", 1.2 + 0.001 * n++}};
        const auto text = edited(stored->version.text, edits);
        if (!text) std::abort();
        const auto tried = bench.cache.try_out(*stored, *text, head, {});
        constexpr std::array wanted{job::Stage::shape};
        benchmark::DoNotOptimize(results_text(*tried, wanted, stored->units));
        const double took = cpu_ms() - from;
        most = std::max(most, took);
        state.SetIterationTime(1e-3 * took);
    }
    state.counters["most_ms"] = most;
}
BENCHMARK(facet_dragged)
    ->Arg(10)
    ->Arg(100)
    ->Arg(1000)
    ->Iterations(40)
    ->UseManualTime()
    ->Unit(benchmark::kMillisecond);

}  // namespace
