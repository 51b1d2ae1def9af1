// The server is killed outright at random moments under writers: what they were acknowledged, and whether it
// is on record once.
#pragma once

#include <gtest/gtest.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <atomic>
#include <chrono>
#include <map>
#include <random>
#include <thread>
#include <vector>

#include "client.hpp"
#include "draws.hpp"
#include "seatwright/store/chain.hpp"

namespace seatwright::server {

// Long enough that the writers get to write; the sanitizers make the server some ten times slower.
constexpr int longest_life_ms = slowed_by_sanitizer ? 2500 : 250;

// A server in a process of its own, on the same data each time; its port comes through a pipe.
struct Process {
    pid_t pid = -1;
    int port = 0;
};

// The child of this process makes its own server and waits to be killed.
[[noreturn]] inline void live(const std::string& data, int pipe) {
    WorkbenchOptions options;
    options.data = data;
    options.password_cost = {1, 8192};
    Workbench bench(options);
    HttpServer server(bench, HttpOptions{});
    const int port = server.port();
    if (::write(pipe, &port, sizeof port) != sizeof port) ::_exit(1);
    for (;;) ::pause();
}

inline Process start(const std::string& data) {
    int ends[2];
    if (::pipe(ends) != 0) return {};
    Process process;
    process.pid = ::fork();
    if (process.pid == 0) live(data, ends[1]);
    ::close(ends[1]);
    if (::read(ends[0], &process.port, sizeof process.port) != sizeof process.port) process.port = 0;
    ::close(ends[0]);
    return process;
}

inline void end(const Process& process) {
    ::kill(process.pid, SIGKILL);
    ::waitpid(process.pid, nullptr, 0);
}

// One tablet: sends its entries in order, each again until it is acknowledged, as the page's queue does.
struct KilledWriter {
    int number = 0;
    int next = 0;                                // of the entry that waits to be acknowledged
    std::map<std::string, double> acknowledged;  // client key → x
    std::string cookie, csrf;
    std::atomic<int>* count = nullptr;  // of what all of them were acknowledged

    // `stays`: the server does, whatever it answers meanwhile.
    void run(int port, long long job, const std::atomic<bool>& over, bool stays = false) {
        Client client(port);
        client.cookie = cookie;
        client.csrf = csrf;
        while (!over) {
            const std::string key = "writer-" + std::to_string(number) + "-" + std::to_string(next);
            const double x = number + next * 1e-3;
            const auto answer = client.post(path_of(job, "/entries"), {{"client_key", key},
                                                                       {"kind", "touch"},
                                                                       {"valve", "1I"},
                                                                       {"head", key},
                                                                       {"units", "mm"},
                                                                       {"values", {{"x", x}, {"y", 0}}}});
            if (answer.status == 0) return;  // the server is gone; what waits is sent again to the next
            if (stays && answer.status / 100 == 5) continue;  // the database is away
            ASSERT_TRUE(answer.status == 200 || answer.status == 201) << answer.text;
            acknowledged[key] = x;
            if (count != nullptr) ++*count;
            ++next;
        }
    }
};

struct Killed {
    long long job = 0;
    std::vector<KilledWriter> writers;
};

// `data`: a folder or a database server's URL.
inline Killed kill_under_writers(const std::string& data, int writers, int kills) {
    Killed killed;
    killed.writers.resize(static_cast<std::size_t>(writers));
    {
        // The first process makes the shop; everything after happens in processes that die.
        const Process process = start(data);
        EXPECT_GT(process.port, 0);
        Client pat(process.port);
        pat.take_session(pat.post("/api/owner", {{"name", "Pat"}, {"password", good_password}}));
        const std::string text =
            "title = \"kill\"\nunits = \"mm\"\n[head]\nname = \"h\"\n[[head.valve]]\nid = \"1I\"\ncylinder = "
            "1\nkind = \"intake\"\nx = 0\ny = 0\nz = 0\n";
        const auto made = pat.post("/api/jobs", {{"from", "text"}, {"text", text}});
        EXPECT_EQ(made.status, 201) << made.text;
        killed.job = made.json().value("id", 0LL);
        for (int w = 0; w < writers; ++w)
            killed.writers[static_cast<std::size_t>(w)] = {w, 0, {}, pat.cookie, pat.csrf};
        end(process);
    }
    std::mt19937 dice(20261125);
    std::uniform_int_distribution<int> moment(1, longest_life_ms);
    for (int k = 0; k < kills; ++k) {
        const Process process = start(data);
        EXPECT_GT(process.port, 0) << "kill " << k;
        std::atomic<bool> over{false};
        std::atomic<int> count{0};
        std::vector<std::thread> threads;
        for (auto& writer : killed.writers) {
            writer.count = &count;
            threads.emplace_back([&] { writer.run(process.port, killed.job, over); });
        }
        // Every second one while it is still coming up, too; the others in the middle of writing.
        for (int i = 0; k % 2 == 0 && i < 3000 && count == 0; ++i)
            std::this_thread::sleep_for(std::chrono::milliseconds(10));
        std::this_thread::sleep_for(std::chrono::milliseconds(moment(dice)));
        end(process);
        over = true;
        for (auto& thread : threads) thread.join();
        for (auto& writer : killed.writers) writer.count = nullptr;
    }
    return killed;
}

inline void expect_all_once(const Killed& killed, const std::vector<store::Entry>& stored) {
    std::map<std::string, int> times;
    std::map<std::string, double> values;
    long long sequence = 0;
    for (const auto& entry : stored) {
        EXPECT_EQ(entry.sequence, ++sequence);
        if (!entry.client_key.starts_with("writer-")) continue;
        ++times[entry.client_key];
        values[entry.client_key] = entry.values["x"];
    }
    std::size_t acknowledged = 0;
    for (const auto& writer : killed.writers)
        for (const auto& [key, x] : writer.acknowledged) {
            EXPECT_EQ(times[key], 1) << key;
            EXPECT_EQ(values[key], x) << key;
            ++acknowledged;
        }
    // What was stored but never acknowledged is at most the one entry each writer was waiting for.
    EXPECT_LE(times.size(), acknowledged + killed.writers.size());
    EXPECT_GT(acknowledged, 0u) << "the writers must have been writing";
    std::printf("%zu entries acknowledged, %zu on record\n", acknowledged, times.size());
}

}  // namespace seatwright::server
