// How long twenty people wait, over http and https, while 220 connections from two other addresses of this
// machine attack the server, and how much memory it takes over what it has when idle. Aims: p99 50 ms, 200
// MiB. Attackers, people and server share the same cores.
#include <benchmark/benchmark.h>

#include "server/attacked.hpp"

namespace {

using namespace seatwright::server;

void attacked(benchmark::State& state, Over over) {
    for (auto _ : state) {
        Attacked server(over);
        if (!server.begin()) return state.SkipWithError("the server does not come up");
        double p99 = 0, memory = 0;
        int failed = 0;
        for (const Attack attack : every_attack) {
            const UnderAttack found = server.by(attack, 10);
            p99 = std::max(p99, found.waits.p99_ms);
            memory = std::max(memory, found.memory);
            failed += found.waits.failed;
        }
        state.counters["worst_p99_ms"] = p99;
        state.counters["memory_mib"] = memory;
        state.counters["failed"] = failed;
    }
}

void over_http(benchmark::State& state) {
    attacked(state, Over::http);
}
void over_tls(benchmark::State& state) {
    attacked(state, Over::https);
}
BENCHMARK(over_http)->Iterations(1)->Unit(benchmark::kSecond)->UseRealTime();
BENCHMARK(over_tls)->Iterations(1)->Unit(benchmark::kSecond)->UseRealTime();

}  // namespace
