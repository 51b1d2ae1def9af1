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

#include <ctime>
#include <random>

#include "seatwright/hold/hold.hpp"
#include "server/answers/job_state.hpp"
#include "server_job.hpp"

namespace {

using namespace seatwright;
using namespace seatwright::server;
using store::EntryKind;

double cpu_ms() {
    timespec now{};
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
    return 1e3 * static_cast<double>(now.tv_sec) + 1e-6 * static_cast<double>(now.tv_nsec);
}

constexpr int readings_of_a_head = 18;

class Heads {
  public:
    explicit Heads(const job::Job& job) : job_(job), hold_(hold::plan(job)) {}

    // The n-th of the readings of head `head`.
    store::NewEntry reading(int head, int n) {
        std::normal_distribution<double> scatter(0, 0.01);
        store::NewEntry entry;
        entry.client_key = fmt::format("reading-{:06}-{:03}", head, n);
        entry.head = std::to_string(head);
        entry.units = LengthUnit::mm;
        const auto rounded = [&](double value) { return std::round(1e3 * value) / 1e3; };
        if (n < 6) {
            const auto& held = hold_.setups[static_cast<std::size_t>(n % 2)].valves;
            const auto& guide = held[static_cast<std::size_t>(n / 2) * (held.size() - 1) / 2];
            entry.kind = EntryKind::touch;
            entry.valve = job_.head.valves[guide.valve].id;
            entry.values = {{"x", rounded(guide.readout.x() + 0.02 + scatter(dice_))},
                            {"y", rounded(guide.readout.y() - 0.01 + scatter(dice_))}};
            return entry;
        }
        entry.valve = job_.head.valves[static_cast<std::size_t>(7 * n) % job_.head.valves.size()].id;
        if (n < 10) {
            entry.kind = EntryKind::guide;
            entry.values = {{"top", 6.002}, {"middle", 6.001}, {"bottom", 6.002}};
        } else if (n < 14) {
            entry.kind = EntryKind::seat;
            entry.values = {{"cleanup", rounded(0.12 + std::abs(scatter(dice_)))},
                            {"stem_height", rounded(39 + scatter(dice_))},
                            {"recession", 0.1}};
        } else {
            entry.kind = EntryKind::proof;
            entry.values = {{"runout", rounded(0.012 + std::abs(scatter(dice_)))},
                            {"stem_height", rounded(39.1 + scatter(dice_))}};
        }
        return entry;
    }

  private:
    const job::Job& job_;
    hold::Hold hold_;
    std::mt19937_64 dice_{1};
};

struct Shop {
    TestShop shop;
    store::Person pat;
    long long id = 0;
    explicit Shop(int heads) {
        const long long empty = job_of_32(shop, SEATWRIGHT_ROOT);
        const auto stored = shop.bench->cache.stored(empty);
        Heads of(*stored->document);
        store::NewJob made;
        made.text = stored->version.text;
        made.what = "heads for a bench";
        for (int head = 1; head <= heads; ++head)
            for (int n = 0; n < readings_of_a_head; ++n) made.entries.push_back(of.reading(head, n));
        pat = shop.bench->people.all().front();
        id = shop.bench->jobs.make(pat, made, {})->id;
    }
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
    ->Arg(10'000)
    ->Iterations(2000)
    ->UseManualTime()
    ->Unit(benchmark::kMillisecond);

}  // namespace
