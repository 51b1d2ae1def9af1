// The server is killed outright at random moments under four writers: whatever it acknowledged is on record
// once, and the database is sound.
#include <gtest/gtest.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <map>
#include <random>
#include <set>

#include "client.hpp"
#include "draws.hpp"

namespace seatwright::server {
namespace {

constexpr int writers = 4;
// Long enough that the writers get to write; the sanitizers make the server some ten times slower.
#if defined(__has_feature)
#if __has_feature(address_sanitizer)
#define SLOWED_BY_SANITIZER
#endif
#endif
#ifdef SLOWED_BY_SANITIZER
constexpr int longest_life_ms = 2500;
#else
constexpr int longest_life_ms = 250;
#endif

// A server in a process of its own, on the same data each time; its port comes through a pipe.
struct Process {
    pid_t pid = -1;
    int port = 0;
};

// The child of this process makes its own server and waits to be killed.
[[noreturn]] void live(const std::string& folder, int pipe) {
    WorkbenchOptions options;
    options.data = folder;
    options.password_cost = {1, 8192};
    Workbench bench(options);
    HttpServer server(bench, HttpOptions{});
    const int port = server.port();
    if (::write(pipe, &port, sizeof port) != sizeof port) ::_exit(1);
    for (;;) ::pause();
}

Process start(const std::string& folder) {
    int ends[2];
    if (::pipe(ends) != 0) return {};
    Process process;
    process.pid = ::fork();
    if (process.pid == 0) live(folder, ends[1]);
    ::close(ends[1]);
    if (::read(ends[0], &process.port, sizeof process.port) != sizeof process.port) process.port = 0;
    ::close(ends[0]);
    return process;
}

void end(const Process& process) {
    ::kill(process.pid, SIGKILL);
    ::waitpid(process.pid, nullptr, 0);
}

// One tablet: sends its entries in order, each again until it is acknowledged, as the page's queue does.
struct Writer {
    int number = 0;
    int next = 0;                                // of the entry that waits to be acknowledged
    std::map<std::string, double> acknowledged;  // client key → x
    std::string cookie, csrf;

    void run(int port, long long job, const std::atomic<bool>& over) {
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
            ASSERT_TRUE(answer.status == 200 || answer.status == 201) << answer.text;
            acknowledged[key] = x;
            ++next;
        }
    }
};

TEST(Killed, AgainAndAgainUnderFourWritersNothingAcknowledgedIsLostOrDoubled) {
    store::TestFolder folder;
    long long job = 0;
    std::vector<Writer> all(writers);
    {
        // The first process makes the shop; everything after happens in processes that die.
        const Process process = start(folder.path());
        ASSERT_GT(process.port, 0);
        Client pat(process.port);
        pat.take_session(pat.post("/api/owner", {{"name", "Pat"}, {"password", good_password}}));
        const std::string text =
            "title = \"kill\"\nunits = \"mm\"\n[head]\nname = \"h\"\n[[head.valve]]\nid = \"1I\"\ncylinder = "
            "1\n"
            "kind = \"intake\"\nx = 0\ny = 0\nz = 0\n";
        const auto made = pat.post("/api/jobs", {{"from", "text"}, {"text", text}});
        EXPECT_EQ(made.status, 201) << made.text;
        job = made.json().value("id", 0LL);
        for (int w = 0; w < writers; ++w) all[static_cast<std::size_t>(w)] = {w, 0, {}, pat.cookie, pat.csrf};
        end(process);
    }
    ASSERT_GT(job, 0);
    std::mt19937 dice(20261125);
    const int kills = drawn(20, 200);
    std::uniform_int_distribution<int> moment(1, longest_life_ms);
    for (int k = 0; k < kills; ++k) {
        const Process process = start(folder.path());
        ASSERT_GT(process.port, 0) << "kill " << k;
        std::atomic<bool> over{false};
        std::vector<std::thread> threads;
        for (auto& writer : all) threads.emplace_back([&] { writer.run(process.port, job, over); });
        std::this_thread::sleep_for(std::chrono::milliseconds(moment(dice)));
        end(process);
        over = true;
        for (auto& thread : threads) thread.join();
    }
    const auto contents = store::inspect(store::database_file(folder.path()));
    ASSERT_TRUE(contents) << contents.error().text;
    store::Database database(store::database_file(folder.path()));
    std::map<std::string, int> times;
    std::map<std::string, double> values;
    long long sequence = 0;
    for (const auto& entry : store::Entries(database).list(job)) {
        EXPECT_EQ(entry.sequence, ++sequence);
        ++times[entry.client_key];
        values[entry.client_key] = entry.values["x"];
    }
    std::size_t acknowledged = 0;
    for (const auto& writer : all)
        for (const auto& [key, x] : writer.acknowledged) {
            EXPECT_EQ(times[key], 1) << key;
            EXPECT_EQ(values[key], x) << key;
            ++acknowledged;
        }
    // What was stored but never acknowledged is at most the one entry each writer was waiting for.
    EXPECT_LE(times.size(), acknowledged + writers);
    EXPECT_GT(acknowledged, 3u * static_cast<unsigned>(kills)) << "the writers must have been writing";
    std::printf("%d kills, %zu entries acknowledged, %zu on record\n", kills, acknowledged, times.size());
}

}  // namespace
}  // namespace seatwright::server
