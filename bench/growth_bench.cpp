// What one more entry costs in a PostgreSQL database that holds ten thousand, and more by tens up to ten
// million: jobs of a thousand entries each with their digests and lines of the ledger, loaded by COPY past
// the program. Measured are one writer, each entry waited for until it is on disk, sixteen writers, and
// reading one job's entries with their digests; jobs are taken in no order, so that nothing helps by being
// near.
//
//   build/bench/bench/bench_growth            as far as SEATWRIGHT_BENCH_ENTRIES says, 10 000 000 if it does
//   not
//
// The database's files lie in the folder for temporary files: 10 million entries take some 7 GB there. Its
// settings are PostgreSQL's own but for the size of the log between checkpoints while it is loaded.
#include <benchmark/benchmark.h>
#include <fmt/format.h>
#include <libpq-fe.h>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <random>
#include <thread>

#include "seatwright/store/chain.hpp"
#include "seatwright/store/passwords.hpp"
#include "seatwright/store/server_address.hpp"
#include "store/house.hpp"

namespace {

using namespace seatwright::store;
using Clock = std::chrono::steady_clock;

constexpr long long of_a_job = 1000, jobs_at_once = 100, made_ms = 1'790'000'000'000;
constexpr int writers = 16, alone = 1000, lists = 200;
constexpr auto length = std::chrono::seconds(10);

double ms_since(Clock::time_point start) {
    return std::chrono::duration<double, std::milli>(Clock::now() - start).count();
}

NewEntry reading(const std::string& key, long long n) {
    NewEntry e;
    e.client_key = key;
    e.kind = EntryKind::proof;
    e.head = std::to_string(n / 16);
    e.valve = std::to_string(1 + n % 4) + "I";
    e.values = {{"runout", 0.001 * static_cast<double>(n % 50)},
                {"width", 1.5 + 0.001 * static_cast<double>(n % 30)}};
    return e;
}

// As somebody who may do anything; references are not looked up for each row.
class Loader {
  public:
    explicit Loader(const std::string& url) : conn_(PQconnectdb(connect_string_of(url).c_str()), PQfinish) {
        run("set session_replication_role = replica");
    }
    void run(const std::string& statement) { end(PQexec(conn_.get(), statement.c_str()), PGRES_COMMAND_OK); }
    // Rows as COPY reads them: tabs between, \N for nothing.
    void copy(const std::string& table, const std::string& rows) {
        end(PQexec(conn_.get(), ("copy " + table + " from stdin").c_str()), PGRES_COPY_IN);
        if (PQputCopyData(conn_.get(), rows.data(), static_cast<int>(rows.size())) != 1 ||
            PQputCopyEnd(conn_.get(), nullptr) != 1)
            throw std::runtime_error(PQerrorMessage(conn_.get()));
        while (PGresult* one = PQgetResult(conn_.get())) end(one, PGRES_COMMAND_OK);
    }

  private:
    void end(PGresult* result, ExecStatusType wanted) {
        const bool good = PQresultStatus(result) == wanted;
        PQclear(result);
        if (!good) throw std::runtime_error(PQerrorMessage(conn_.get()));
    }
    std::unique_ptr<PGconn, void (*)(PGconn*)> conn_;
};

// One database, on a disk, that grows from one measurement to the next.
class Records {
  public:
    // Until it holds so many entries in jobs of its own; what was measured before comes on top. Whether
    // anything was missing.
    bool grow_to(long long entries) {
        const long long wanted = entries / of_a_job;
        if (jobs_ >= wanted) return false;
        Loader loader(cluster_.url(name_, "super"));
        long long entry = std::stoll(cluster_.text(name_, "select coalesce(max(id), 0)::text from entry"));
        long long line = std::stoll(cluster_.text(name_, "select coalesce(max(id), 0)::text from ledger"));
        while (jobs_ < wanted) load(loader, std::min(jobs_at_once, wanted - jobs_), entry, line);
        for (const auto* table : {"job", "entry", "ledger"})
            cluster_.text(
                name_,
                fmt::format("select setval(pg_get_serial_sequence('{0}', 'id'), max(id))::text from {0}",
                            table));
        loader.run("vacuum analyze");
        loader.run("checkpoint");
        return true;
    }
    Database& database() { return *database_; }
    const Person& pat() const { return pat_; }
    // One of the loaded.
    long long any_job(std::mt19937& dice) const {
        return std::uniform_int_distribution<long long>(1, jobs_)(dice);
    }
    // Of all connections, since they were made (Linux, proc(5): schedstat has nanoseconds first).
    double server_cpu_ms() const {
        double all = 0;
        for (const auto& pid : cluster_.texts(
                 name_,
                 fmt::format("select pid::text from pg_stat_activity where datname = '{}' and usename = "
                             "'shop_server'",
                             name_))) {
            double ns = 0;
            std::ifstream("/proc/" + pid + "/schedstat") >> ns;
            all += 1e-6 * ns;
        }
        return all;
    }
    std::string size() const {
        return cluster_.text(name_, fmt::format("select pg_database_size('{}')::text", name_));
    }

  private:
    void load(Loader& loader, long long count, long long& entry, long long& line) {
        std::string jobs, versions, entries, digests, lines;
        for (; count > 0; --count) {
            const long long job = ++jobs_;
            fmt::format_to(std::back_inserter(jobs), "{}\t{}\t{}\t0\t1\t{}\t{}\t{}\t1\n", job, made_ms,
                           pat_.id, of_a_job, made_ms, pat_.id);
            fmt::format_to(std::back_inserter(versions),
                           "{}\t1\ttitle = \"t\"\t{}\t{}\tmade for the bench\t1\n", job, made_ms, pat_.id);
            std::string before = no_entry_before;
            for (long long n = 1; n <= of_a_job; ++n) {
                const NewEntry e = reading(fmt::format("tablet-0123456789abcdef-{}-{}", job, n), n);
                EntryFacts f;
                f.job = job, f.sequence = n, f.made_by = pat_.id, f.made_ms = made_ms + n;
                f.client_key = e.client_key, f.kind = name_of(e.kind), f.head = e.head, f.valve = e.valve;
                f.content = e.values.dump(), f.units = "mm";
                before = digest_of(f, before);
                fmt::format_to(std::back_inserter(entries),
                               "{}\t{}\t{}\t{}\t{}\t{}\t{}\t{}\tmm\t{}\t{}\t0\t0\t\t1\n", ++entry, job, n,
                               f.client_key, f.kind, f.head, f.valve, f.content, f.made_by, f.made_ms);
                fmt::format_to(std::back_inserter(digests), "{}\t{}\t{}\t{}\t1\n", entry, job, n, before);
                fmt::format_to(std::back_inserter(lines),
                               "{}\t{}\t{}\trecorded a proof of valve {}, head {}\t{}\t{}\t1\n", ++line,
                               f.made_ms, pat_.id, f.valve, f.head, job, entry);
            }
        }
        loader.copy(
            "job (id, made_ms, made_by, is_archived, version, sequence, changed_ms, changed_by, shop)", jobs);
        loader.copy("job_version (job_id, version, body, made_ms, made_by, what, shop)", versions);
        loader.copy(
            "entry (id, job_id, sequence, client_key, kind, head, valve, content, units, made_by, made_ms, "
            "is_withdrawn, is_repeat, reason, shop)",
            entries);
        loader.copy("entry_digest (entry_id, job_id, sequence, digest, shop)", digests);
        loader.copy("ledger (id, made_ms, made_by, what, job_id, entry_id, shop)", lines);
    }

    static Cluster& with_own_settings(Cluster& cluster) {
        cluster.stop(SIGINT);
        cluster.start({"-c", "shared_buffers=128MB", "-c", "max_wal_size=8GB"});
        return cluster;
    }
    Cluster own_{std::filesystem::temp_directory_path() / "seatwright-pg-"};
    Cluster& cluster_ = with_own_settings(own_);
    std::string name_ = cluster_.new_database();
    std::unique_ptr<Database> database_ =
        std::make_unique<Database>(cluster_.url(name_), DatabaseOptions{.connections = 4});
    Person pat_ = *People(*database_, cheap).make_owner("Pat", good_password);
    long long jobs_ = 0;
};

Records& records() {
    static Records one;
    return one;
}

// Whether there are so many; loads what is missing.
bool grown(benchmark::State& state) {
    start_sodium();
    const char* most = std::getenv("SEATWRIGHT_BENCH_ENTRIES");
    if (state.range(0) > (most == nullptr ? 10'000'000 : std::atoll(most))) {
        state.SkipWithError("left out: SEATWRIGHT_BENCH_ENTRIES says fewer");
        return false;
    }
    const auto start = Clock::now();
    if (records().grow_to(state.range(0))) {
        state.counters["loaded_s"] = 1e-3 * ms_since(start);
        state.counters["database_MB"] = 1e-6 * std::stod(records().size());
    }
    return true;
}

double quantile(std::vector<double>& all, double share) {
    std::sort(all.begin(), all.end());
    return all[static_cast<std::size_t>(share * static_cast<double>(all.size() - 1))];
}

std::string new_key() {
    static std::atomic<long long> made{0};
    return "bench-" + std::to_string(++made);
}

void one_writer(benchmark::State& state) {
    if (!grown(state)) return;
    Entries entries(records().database());
    std::mt19937 dice(1);
    std::vector<double> waits;
    const double before = records().server_cpu_ms();
    for (auto _ : state) {
        const auto start = Clock::now();
        if (!entries.append(records().pat(), records().any_job(dice), reading(new_key(), 1)))
            state.SkipWithError("refused");
        waits.push_back(ms_since(start));
    }
    state.counters["server_cpu_ms"] =
        (records().server_cpu_ms() - before) / static_cast<double>(waits.size());
    state.counters["p50_ms"] = quantile(waits, 0.5);
    state.counters["p99_ms"] = quantile(waits, 0.99);
}

void sixteen_writers(benchmark::State& state) {
    if (!grown(state)) return;
    for (auto _ : state) {
        std::atomic<long long> stored{0};
        std::vector<std::thread> threads;
        const double before = records().server_cpu_ms();
        const auto end = Clock::now() + length;
        for (int w = 0; w < writers; ++w)
            threads.emplace_back([&, w] {
                Entries entries(records().database());
                std::mt19937 dice(static_cast<unsigned>(w));
                while (Clock::now() < end)
                    if (entries.append(records().pat(), records().any_job(dice), reading(new_key(), 1)))
                        ++stored;
            });
        for (auto& thread : threads) thread.join();
        state.counters["server_cpu_ms"] = (records().server_cpu_ms() - before) / static_cast<double>(stored);
        state.counters["entries/s"] =
            static_cast<double>(stored) / std::chrono::duration<double>(length).count();
    }
}

void one_job_read(benchmark::State& state) {
    if (!grown(state)) return;
    Entries entries(records().database());
    std::mt19937 dice(2);
    const double before = records().server_cpu_ms();
    for (auto _ : state)
        if (entries.list(records().any_job(dice)).size() < of_a_job)
            state.SkipWithError("entries are missing");
    state.counters["server_cpu_ms"] = (records().server_cpu_ms() - before) / lists;
}

void each_size() {
    for (long long entries = 10'000; entries <= 10'000'000; entries *= 10) {
        benchmark::RegisterBenchmark("one_writer", one_writer)
            ->Arg(entries)
            ->Iterations(alone)
            ->Unit(benchmark::kMillisecond)
            ->UseRealTime();
        benchmark::RegisterBenchmark("sixteen_writers", sixteen_writers)
            ->Arg(entries)
            ->Iterations(1)
            ->Unit(benchmark::kSecond)
            ->UseRealTime();
        benchmark::RegisterBenchmark("one_job_read", one_job_read)
            ->Arg(entries)
            ->Iterations(lists)
            ->Unit(benchmark::kMillisecond)
            ->UseRealTime();
    }
}
const int registered = (each_size(), 0);

}  // namespace
