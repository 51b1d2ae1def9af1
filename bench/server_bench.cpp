// How long 20 clients wait for the workbench's answers on one 32-valve job, over loopback, all stages
// computed.
//
// An answer is timed from the first byte the client sends to the last it receives: login checked, everything
// recomputed that an entry or a change before it made stale, and an entry on disk (fsync) before it is
// answered. The mix is the job page's: its state, drawings, what-ifs while a tilt, a depth and a facet are
// dragged, entries, lists, changes of the document, a page of the setup sheet.
//
// four_a_second, ten_a_second: twenty people who each ask that often, 80 and 200 questions a second together;
// ten a second is a drag that never ends.
// without_pause: each client asks again at once: the most the server gives, twenty questions always waiting
// and, with every seventh an entry, two hundred entries a second. looking_without_pause: the same without
// entries and changes.
#include <benchmark/benchmark.h>

#include <algorithm>
#include <array>
#include <atomic>
#include <chrono>
#include <cstdio>
#include <map>
#include <mutex>
#include <random>

#include "server_job.hpp"

namespace {

using namespace seatwright::server;
using Clock = std::chrono::steady_clock;

constexpr int clients = 20;
constexpr int rounds = 60;

struct Waits {
    std::mutex mutex;
    std::map<std::string, std::vector<double>> ms;
    int failed = 0;
    void add(const std::string& what, double wait, bool good) {
        const std::lock_guard<std::mutex> lock(mutex);
        ms[what].push_back(wait);
        failed += good ? 0 : 1;
    }
};

struct Asked {
    Client& client;
    long long job;
    int number;  // of all questions of all clients
};

struct Question {
    const char* name;
    int share;  // of the sum of all
    Answered (*ask)(const Asked&);
    bool writes = false;
};

Answered what_if(const Asked& a, const Json& body) {
    return a.client.post(path_of(a.job, "/whatif"), body);
}

// A document changed on the version last heard of; somebody else may have been quicker (409), which is an
// answer too and tells the version there is.
Answered change(const Asked& a) {
    static std::atomic<long long> version{0};
    const Json value = 1.2 + 0.001 * (a.number % 50);
    const auto answer = a.client.post(path_of(a.job, "/edits"),
                                      {{"version", std::max(1LL, version.load())},
                                       {"edits", {{{"key", "seat.intake.width"}, {"value", value}}}}});
    version = answer.json().value("version", version.load());
    return answer;
}

const std::vector<Question>& questions() {
    static const std::vector<Question> all{
        {"state", 20, [](const Asked& a) { return a.client.get(path_of(a.job, "/state")); }},
        {"drawing", 12, [](const Asked& a) { return a.client.get(path_of(a.job, "/drawings/map.svg")); }},
        {"section", 8, [](const Asked& a) { return a.client.get(path_of(a.job, "/drawings/section.svg")); }},
        {"tilt dragged", 10,
         [](const Asked& a) {
             return what_if(a, {{"attitude", {{"tilt_deg", 10 + 0.01 * (a.number % 100)}}},
                                {"results", {"hold"}},
                                {"drawings", {{{"name", "end"}}}}});
         }},
        {"depth dragged", 6,
         [](const Asked& a) {
             return what_if(a, {{"depths", {{"1Ia", 0.15 + 0.001 * (a.number % 100)}}},
                                {"results", {"shape"}},
                                {"drawings", {{{"name", "depths"}}}}});
         }},
        {"facet dragged", 6,
         [](const Asked& a) {
             return what_if(
                 a, {{"edits", {{{"key", "seat.intake.width"}, {"value", 1.2 + 0.001 * (a.number % 100)}}}},
                     {"results", {"shape"}},
                     {"drawings", {{{"name", "section"}}}}});
         }},
        {"entry", 14,
         [](const Asked& a) { return a.client.post(path_of(a.job, "/entries"), entry_of_shift(a.number)); },
         true},
        {"entries", 8, [](const Asked& a) { return a.client.get(path_of(a.job, "/entries?after=30")); }},
        {"job", 6, [](const Asked& a) { return a.client.get(path_of(a.job)); }},
        {"bench", 3, [](const Asked& a) { return a.client.get("/api/jobs"); }},
        {"ledger", 2, [](const Asked& a) { return a.client.get("/api/ledger"); }},
        {"why", 2, [](const Asked& a) { return a.client.get(path_of(a.job, "/why/shape")); }},
        {"sheet page", 2, [](const Asked& a) { return a.client.get(path_of(a.job, "/papers/sheet-1.svg")); }},
        {"change", 1, change, true},
    };
    return all;
}

void ask(const Asked& asked, Waits& waits, int dice, bool may_write) {
    int at = dice;
    for (const auto& question : questions()) {
        if ((at -= question.share) >= 0) continue;
        if (question.writes && !may_write) return;
        const auto start = Clock::now();
        const Answered answer = question.ask(asked);
        const double wait = std::chrono::duration<double, std::milli>(Clock::now() - start).count();
        waits.add(question.name, wait, answer.status == 200 || answer.status == 201 || answer.status == 409);
        return;
    }
}

double quantile(std::vector<double>& values, double share) {
    std::sort(values.begin(), values.end());
    return values[std::min(values.size() - 1,
                           static_cast<std::size_t>(share * static_cast<double>(values.size())))];
}

struct Manner {
    double pace_ms = 0;     // from a question to the next, in the mean; 0 = none
    bool may_write = true;  // or only look and try out
};

void client(TestShop& shop, long long job, int who, Manner manner, std::atomic<int>& asked, Waits& waits) {
    Client client(shop.server->port());
    client.cookie = shop.pat->cookie;
    client.csrf = shop.pat->csrf;
    std::mt19937 dice(static_cast<unsigned>(who));
    std::uniform_real_distribution<double> pace(0.5 * manner.pace_ms, 1.5 * manner.pace_ms);
    std::uniform_int_distribution<int> kind(0, 99);
    for (int round = 0; round < rounds; ++round) {
        if (manner.pace_ms > 0)
            std::this_thread::sleep_for(std::chrono::duration<double, std::milli>(pace(dice)));
        ask({client, job, asked++}, waits, kind(dice), manner.may_write);
    }
}

void page(benchmark::State& state, Manner manner) {
    for (auto _ : state) {
        TestShop shop;
        const long long job = job_of_32(shop, SEATWRIGHT_ROOT);
        Waits waits;
        std::atomic<int> asked{0};
        std::vector<std::thread> threads;
        for (int who = 0; who < clients; ++who)
            threads.emplace_back([&, who] { client(shop, job, who, manner, asked, waits); });
        for (auto& thread : threads) thread.join();
        std::vector<double> all;
        for (auto& [what, ms] : waits.ms) {
            all.insert(all.end(), ms.begin(), ms.end());
            std::printf("%-14s n %4zu  p50 %7.2f ms  p99 %7.2f ms\n", what.c_str(), ms.size(),
                        quantile(ms, 0.5), quantile(ms, 0.99));
        }
        state.counters["p50_ms"] = quantile(all, 0.5);
        state.counters["p99_ms"] = quantile(all, 0.99);
        state.counters["failed"] = waits.failed;
    }
}

void four_a_second(benchmark::State& state) {
    page(state, {250});
}
void ten_a_second(benchmark::State& state) {
    page(state, {100});
}
void without_pause(benchmark::State& state) {
    page(state, {});
}
void looking_without_pause(benchmark::State& state) {
    page(state, {0, false});
}
BENCHMARK(four_a_second)->Iterations(1)->Unit(benchmark::kMillisecond)->UseRealTime();
BENCHMARK(ten_a_second)->Iterations(1)->Unit(benchmark::kMillisecond)->UseRealTime();
BENCHMARK(looking_without_pause)->Iterations(1)->Unit(benchmark::kMillisecond)->UseRealTime();
BENCHMARK(without_pause)->Iterations(1)->Unit(benchmark::kMillisecond)->UseRealTime();

}  // namespace
