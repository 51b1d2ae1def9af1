// How long 20 clients wait for the workbench's answers on one 32-valve job, over loopback: the job page's
// mix of reading the state, drawings, what-ifs while something is dragged, and entries.
#include <benchmark/benchmark.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <map>
#include <mutex>
#include <random>

#include "../tests/server/client.hpp"

namespace {

using namespace seatwright::server;
using Clock = std::chrono::steady_clock;

constexpr int clients = 20;
constexpr int rounds = 40;
// A person with a tablet, or a drag: ten questions a second each, 200 a second together.
constexpr double pace_ms = 100;

// Eight cylinders of four valves with touches and depths on record.
long long job_of_32(TestShop& shop) {
    const Json answers = {{"units", "mm"},
                          {"cylinders", 8},
                          {"bore_spacing", 100},
                          {"valves", {{"intake", 2}, {"exhaust", 2}}},
                          {"angles", {{"intake", {{"incline", 12}}}, {"exhaust", {{"incline", -12}}}}}};
    const Json job = shop.pat->post("/api/jobs", {{"from", "answers"}, {"answers", answers}}).json();
    const long long id = job.value("id", 0LL);
    const Json state = shop.pat->get(path_of(id, "/state")).json();
    int key = 0;
    for (const auto& setup : state["results"]["hold"]["setups"])
        for (const auto& valve : setup["valves"]) {
            const std::string number = std::to_string(10000 + key++);
            if (key % 4 == 1)
                shop.pat->post(path_of(id, "/entries"),
                               {{"client_key", "touch-" + number},
                                {"kind", "touch"},
                                {"valve", valve["id"]},
                                {"units", "mm"},
                                {"values", {{"x", valve["x_mm"]}, {"y", valve["y_mm"]}}}});
            shop.pat->post(path_of(id, "/entries"), {{"client_key", "seats-" + number},
                                                     {"kind", "seat"},
                                                     {"valve", valve["id"]},
                                                     {"units", "mm"},
                                                     {"values", {{"cleanup", 0.05 + 0.001 * key}}}});
        }
    return id;
}

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

void ask(Client& client, Waits& waits, long long job, int who, int round) {
    static const char* const names[] = {"state", "drawing", "what-if", "entry", "entries", "job"};
    const int kind = (who + round) % 6;
    const auto start = Clock::now();
    Answered answer;
    switch (kind) {
        case 0:
            answer = client.get(path_of(job, "/state"));
            break;
        case 1:
            answer = client.get(path_of(job, "/drawings/map.svg"));
            break;
        case 2:
            answer =
                client.post(path_of(job, "/whatif"), {{"attitude", {{"tilt_deg", 10 + 0.01 * (who + round)}}},
                                                      {"results", {"hold"}},
                                                      {"drawings", {{{"name", "end"}}}}});
            break;
        case 3:
            answer =
                client.post(path_of(job, "/entries"),
                            {{"client_key", "bench-" + std::to_string(who) + "-" + std::to_string(round)},
                             {"kind", "touch"},
                             {"valve", "1Ia"},
                             {"repeat", true},
                             {"units", "mm"},
                             {"values", {{"x", 0.001 * round}, {"y", 0.001 * who}}}});
            break;
        case 4:
            answer = client.get(path_of(job, "/entries?after=30"));
            break;
        default:
            answer = client.get(path_of(job));
            break;
    }
    const double wait = std::chrono::duration<double, std::milli>(Clock::now() - start).count();
    waits.add(names[kind], wait, answer.status == 200 || answer.status == 201);
}

double quantile(std::vector<double>& values, double share) {
    std::sort(values.begin(), values.end());
    return values[std::min(values.size() - 1,
                           static_cast<std::size_t>(share * static_cast<double>(values.size())))];
}

void page(benchmark::State& state, bool paced) {
    TestShop shop;
    const long long job = job_of_32(shop);
    for (auto _ : state) {
        Waits waits;
        std::vector<std::thread> threads;
        for (int who = 0; who < clients; ++who)
            threads.emplace_back([&, who] {
                Client client(shop.server->port());
                client.cookie = shop.pat->cookie;
                client.csrf = shop.pat->csrf;
                std::mt19937 dice(static_cast<unsigned>(who));
                std::uniform_real_distribution<double> share(0.5, 1.5);
                for (int round = 0; round < rounds; ++round) {
                    if (paced)
                        std::this_thread::sleep_for(
                            std::chrono::duration<double, std::milli>(pace_ms * share(dice)));
                    ask(client, waits, job, who, round);
                }
            });
        for (auto& thread : threads) thread.join();
        std::vector<double> all;
        for (auto& [what, ms] : waits.ms) {
            all.insert(all.end(), ms.begin(), ms.end());
            std::printf("%-8s n %4zu  p50 %7.2f ms  p99 %7.2f ms\n", what.c_str(), ms.size(),
                        quantile(ms, 0.5), quantile(ms, 0.99));
        }
        state.counters["p50_ms"] = quantile(all, 0.5);
        state.counters["p99_ms"] = quantile(all, 0.99);
        state.counters["failed"] = waits.failed;
    }
}

void paced_page(benchmark::State& state) {
    page(state, true);
}
void page_without_pause(benchmark::State& state) {
    page(state, false);
}
BENCHMARK(paced_page)->Iterations(1)->Unit(benchmark::kMillisecond)->UseRealTime();
BENCHMARK(page_without_pause)->Iterations(1)->Unit(benchmark::kMillisecond)->UseRealTime();

}  // namespace
