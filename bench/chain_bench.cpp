// How long it takes to hold every stored entry against its digest: 1 000 jobs of 1 000 entries, as the server
// does it in the background. Processor time of the thread; reading from disk is not in it once the file is in
// memory.
#include <benchmark/benchmark.h>

#include "seatwright/store/chain.hpp"
#include "store/house.hpp"

namespace {

using namespace seatwright::store;

constexpr int jobs = 1000, entries = 1000;

NewEntry reading(int n) {
    NewEntry e;
    e.client_key = "tablet-0123456789abcdef-" + std::to_string(n);
    e.kind = EntryKind::proof;
    e.head = std::to_string(n / 16);
    e.valve = std::to_string(1 + n % 4) + "I";
    e.values = {{"runout", 0.001 * (n % 50)}, {"width", 1.5 + 0.001 * (n % 30)}, {"stem_height", 48.5}};
    return e;
}

void check_all(benchmark::State& state) {
    TestHouse house;
    NewJob job;
    job.text = "title = \"t\"\n";
    job.what = "made for the bench";
    for (int n = 0; n < entries; ++n) job.entries.push_back(reading(n));
    for (int n = 0; n < jobs; ++n) static_cast<void>(house.jobs.make(house.owner, job));
    for (auto _ : state) {
        const auto found = house.database.read(damage_in);
        if (!found.empty()) state.SkipWithError("damaged");
    }
    state.SetItemsProcessed(state.iterations() * jobs * entries);
}
BENCHMARK(check_all)->Unit(benchmark::kSecond)->Iterations(1);

}  // namespace
