// How long clients wait for the workbench's answers on one 32-valve job, over loopback, all stages computed.
//
// An answer is timed from when its question was due (where a client asks again at once: from the first byte
// it sends) to the last byte the client receives: login checked, everything recomputed that an entry or a
// change before it made stale, and an entry on disk (fsync) before it is answered. The mix is the job page's:
// its state, drawings, what-ifs while a tilt, a depth and a facet are dragged, entries, lists, changes of the
// document, a page of the setup sheet.
//
// four_a_second, ten_a_second: twenty people who each ask that often, 80 and 200 questions a second together;
// ten a second is a drag that never ends. A question is due whether or not the one before it was answered.
// hundred_with_streams: a hundred clients, each with an event stream that is read beside it, so that each
// entry is told a hundred times; the same 200 questions a second. hundred_of_ten: each of them asks ten a
// second, a thousand together.
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

#include "plain_client.hpp"
#include "server_job.hpp"
#include "streams.hpp"

namespace {

using namespace seatwright::server;
using Clock = std::chrono::steady_clock;

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
    PlainClient& client;
    long long job;
    int number;  // of all questions of all clients
};

struct Question {
    const char* name;
    int share;  // of the sum of all
    PlainClient::Answer (*ask)(const Asked&);
    bool writes = false;
};

PlainClient::Answer what_if(const Asked& a, const Json& body) {
    return a.client.post(path_of(a.job, "/whatif"), body);
}

// A document changed on the version last heard of; somebody else may have been quicker (409), which is an
// answer too and tells the version there is.
PlainClient::Answer change(const Asked& a) {
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

void ask(const Asked& asked, Waits& waits, int dice, bool may_write, Clock::time_point due) {
    int at = dice;
    for (const auto& question : questions()) {
        if ((at -= question.share) >= 0) continue;
        if (question.writes && !may_write) return;
        const PlainClient::Answer answer = question.ask(asked);
        const double wait = std::chrono::duration<double, std::milli>(Clock::now() - due).count();
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
    int clients = 20;
    bool streams = false;  // an event stream each
};

struct Person {
    std::string cookie, csrf;
};

void client(int port, const Person& person, long long job, int who, Manner manner, std::atomic<int>& asked,
            Waits& waits) {
    PlainClient client(port, cookie_name(port) + "=" + person.cookie, person.csrf);
    std::mt19937 dice(static_cast<unsigned>(who));
    std::uniform_real_distribution<double> pace(0.5 * manner.pace_ms, 1.5 * manner.pace_ms);
    std::uniform_int_distribution<int> kind(0, 99);
    auto due = Clock::now();
    for (int round = 0; round < rounds; ++round) {
        if (manner.pace_ms > 0) {
            due += std::chrono::duration_cast<Clock::duration>(
                std::chrono::duration<double, std::milli>(pace(dice)));
            std::this_thread::sleep_until(due);
        } else {
            due = Clock::now();
        }
        ask({client, job, asked++}, waits, kind(dice), manner.may_write, due);
    }
}

// One for each client; leads, since any of them may change the document.
std::vector<Person> people_of(TestShop& shop, int clients) {
    std::vector<Person> all{{shop.pat->cookie, shop.pat->csrf}};
    for (int n = 1; n < clients; ++n) {
        const auto one = shop.person("Lead " + std::to_string(n), "lead");
        all.push_back({one->cookie, one->csrf});
    }
    return all;
}

void page(benchmark::State& state, Manner manner) {
    for (auto _ : state) {
        TestShop shop(256);
        const long long job = job_of_32(shop, SEATWRIGHT_ROOT);
        const auto people = people_of(shop, manner.clients);
        const auto person = [&](int who) { return people[static_cast<std::size_t>(who) % people.size()]; };
        const int port = shop.server->port();
        Streams streams(port);
        for (int who = 0; manner.streams && who < manner.clients; ++who)
            if (!streams.add(path_of(job, "/events"), cookie_name(port) + "=" + person(who).cookie))
                return state.SkipWithError("a stream is refused");
        streams.listen();
        Waits waits;
        std::atomic<int> asked{0};
        std::vector<std::thread> threads;
        for (int who = 0; who < manner.clients; ++who)
            threads.emplace_back([&, who] { client(port, person(who), job, who, manner, asked, waits); });
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
        if (manner.streams) {
            state.counters["told_MB"] = 1e-6 * static_cast<double>(streams.heard());
            state.counters["streams_ended"] = streams.ended();
        }
    }
}

void four_a_second(benchmark::State& state) {
    page(state, {250});
}
void ten_a_second(benchmark::State& state) {
    page(state, {100});
}
void hundred_with_streams(benchmark::State& state) {
    page(state, {500, true, 100, true});
}
void hundred_of_ten(benchmark::State& state) {
    page(state, {100, true, 100, true});
}
void without_pause(benchmark::State& state) {
    page(state, {});
}
void looking_without_pause(benchmark::State& state) {
    page(state, {0, false});
}
BENCHMARK(four_a_second)->Iterations(1)->Unit(benchmark::kMillisecond)->UseRealTime();
BENCHMARK(ten_a_second)->Iterations(1)->Unit(benchmark::kMillisecond)->UseRealTime();
BENCHMARK(hundred_with_streams)->Iterations(1)->Unit(benchmark::kMillisecond)->UseRealTime();
BENCHMARK(hundred_of_ten)->Iterations(1)->Unit(benchmark::kMillisecond)->UseRealTime();
BENCHMARK(looking_without_pause)->Iterations(1)->Unit(benchmark::kMillisecond)->UseRealTime();
BENCHMARK(without_pause)->Iterations(1)->Unit(benchmark::kMillisecond)->UseRealTime();

}  // namespace
