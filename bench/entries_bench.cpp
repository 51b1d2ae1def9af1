// Entries a second from sixteen writers with group commit, each waiting until its entry is on disk before it
// sends the next: in a folder, and in a PostgreSQL database with one, two and four servers (a Database each,
// as a server process has one) that share the writers; and how long each writer waits. Beside them how often
// the machine flushes a file in a second, one flush after the other: no group can be acknowledged without
// one.
//
//   build/bench/bench/bench_entries
//
// The database's files lie in the folder for temporary files, so that they are flushed to a disk.
#include <benchmark/benchmark.h>
#include <fcntl.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <filesystem>
#include <thread>

#include "seatwright/store/passwords.hpp"
#include "store/house.hpp"

namespace {

using namespace seatwright::store;
using Clock = std::chrono::steady_clock;

constexpr std::size_t writers = 16, jobs = 4;
constexpr auto length = std::chrono::seconds(5);

NewEntry reading(int writer, int n) {
    NewEntry e;
    e.client_key = "tablet-" + std::to_string(writer) + "-" + std::to_string(n);
    e.kind = EntryKind::proof;
    e.head = std::to_string(n);
    e.valve = std::to_string(1 + n % 4) + "I";
    e.values = {{"runout", 0.001 * (n % 50)}, {"width", 1.5 + 0.001 * (n % 30)}};
    return e;
}

// One database of its own, on a disk.
Cluster& cluster() {
    static Cluster one(std::filesystem::temp_directory_path() / "seatwright-pg-");
    return one;
}

// `servers` 0: a folder.
void sixteen_writers(benchmark::State& state) {
    start_sodium();
    const auto servers = state.range(0);
    for (auto _ : state) {
        const TestFolder folder;
        const std::string place =
            servers == 0 ? database_file(folder.path()) : cluster().url(cluster().new_database());
        std::vector<std::unique_ptr<Database>> all;
        for (long s = 0; s < std::max(1L, servers); ++s)
            all.push_back(std::make_unique<Database>(place, DatabaseOptions{.connections = 4}));
        const Person pat = *People(*all.front(), cheap).make_owner("Pat", good_password);
        NewJob job;
        job.text = "title = \"t\"\n";
        job.what = "made for the bench";
        std::vector<long long> ids;
        for (std::size_t j = 0; j < jobs; ++j) ids.push_back(Jobs(*all.front()).make(pat, job)->id);
        std::vector<std::vector<double>> waits(writers);  // ms, of each writer
        std::vector<std::thread> threads;
        const auto end = Clock::now() + length;
        for (std::size_t w = 0; w < writers; ++w)
            threads.emplace_back([&, w] {
                Entries entries(*all[w % all.size()]);
                for (auto start = Clock::now(); start < end;) {
                    const int n = static_cast<int>(waits[w].size());
                    if (!entries.append(pat, ids[w % jobs], reading(static_cast<int>(w), n))) return;
                    const auto done = Clock::now();
                    waits[w].push_back(std::chrono::duration<double, std::milli>(done - start).count());
                    start = done;
                }
            });
        for (auto& thread : threads) thread.join();
        std::vector<double> of_all;
        for (const auto& own : waits) of_all.insert(of_all.end(), own.begin(), own.end());
        std::sort(of_all.begin(), of_all.end());
        const auto at = [&](double share) {
            return of_all[static_cast<std::size_t>(share * static_cast<double>(of_all.size() - 1))];
        };
        state.counters["entries/s"] =
            static_cast<double>(of_all.size()) / std::chrono::duration<double>(length).count();
        state.counters["p50_ms"] = at(0.5);
        state.counters["p99_ms"] = at(0.99);
    }
}
BENCHMARK(sixteen_writers)->ArgName("servers")->Arg(0)->Arg(1)->Arg(2)->Arg(4)->Iterations(1)->UseRealTime();

// 8 KiB appended and flushed, as a log is.
void flushes(benchmark::State& state) {
    const TestFolder folder;
    const std::string block(8192, 'x');
    const int file = ::open(folder.file("flushed").c_str(), O_WRONLY | O_CREAT | O_CLOEXEC, 0600);
    for (auto _ : state)
        if (::write(file, block.data(), block.size()) < 0 || ::fdatasync(file) != 0)
            state.SkipWithError("disk");
    ::close(file);
    state.counters["flushes/s"] =
        benchmark::Counter(static_cast<double>(state.iterations()), benchmark::Counter::kIsRate);
}
BENCHMARK(flushes)->Iterations(2000)->UseRealTime();

}  // namespace
