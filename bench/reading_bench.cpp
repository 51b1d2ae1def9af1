// What one more reading costs the server in a job of so many heads: processor time from the stored entry to
// the text of the page's new state, all stages worked out.
//
// Eighteen readings a head: six touches, four guides, four seats, four proofs, each head lying a little
// otherwise. The entries that are timed go on with the head in hand, valve after valve. The counters part the
// mean: `source` (what is stored, and what of it counts), `job` (as the stages read it), the stages, `page`
// (the text). Only a reading that a stage reads makes it work.
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
    state_text(bench, shop.id, "", std::nullopt);
    std::vector<double> all;
    std::array<double, 4> parts{};
    std::size_t page = 0;
    int n = 0;
    for (auto _ : state) {
        store::NewEntry entry = of.reading(heads + 1 + n / readings_of_a_head, n % readings_of_a_head);
        entry.client_key += "-timed";
        ++n;
        if (!bench.entries.append(shop.pat, shop.id, entry)) std::abort();
        const double start = cpu_ms();
        const auto stored = bench.cache.stored(shop.id);
        const double known = cpu_ms();
        const auto computation = bench.cache.computation(stored, "");
        const double read = cpu_ms();
        computation->notices();
        const double worked = cpu_ms();
        page = state_text(bench, shop.id, "", std::nullopt).size();
        const double end = cpu_ms();
        all.push_back(end - start);
        parts[0] += known - start, parts[1] += read - known, parts[2] += worked - read,
            parts[3] += end - worked;
        state.SetIterationTime(1e-3 * (end - start));
    }
    std::sort(all.begin(), all.end());
    const auto count = static_cast<double>(all.size());
    state.counters["p99_ms"] = all[static_cast<std::size_t>(0.99 * (count - 1))];
    state.counters["source"] = parts[0] / count;
    state.counters["job"] = parts[1] / count;
    state.counters["stages"] = parts[2] / count;
    state.counters["page"] = parts[3] / count;
    state.counters["page_kB"] = static_cast<double>(page) / 1e3;
}
BENCHMARK(one_reading)->Arg(10)->Arg(100)->Iterations(180)->UseManualTime()->Unit(benchmark::kMillisecond);
BENCHMARK(one_reading)->Arg(1000)->Iterations(36)->UseManualTime()->Unit(benchmark::kMillisecond);

}  // namespace
