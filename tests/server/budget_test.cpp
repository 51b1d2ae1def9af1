// What one asker, or one address, may take: connections, live streams, questions at once, long tasks.
#include <gtest/gtest.h>

#include <algorithm>
#include <fstream>

#include "../../bench/server_job.hpp"
#include "certificate.hpp"
#include "client.hpp"
#include "places.hpp"
#include "raw.hpp"
#include "served.hpp"
#include "server/http/guests.hpp"
#include "server/http/request_head.hpp"
#include "server/http/web_server.hpp"

namespace seatwright::server {
namespace {

using Clock = std::chrono::steady_clock;

double seconds_since(Clock::time_point start) {
    return std::chrono::duration<double>(Clock::now() - start).count();
}

const auto nothing = [] {};

TEST(Guests, OneAddressTakesNoMoreThanItsShare) {
    Guests house({6, 4, 2});
    const auto a = house.enter("a", nothing), b = house.enter("a", nothing);
    EXPECT_TRUE(a && b);
    EXPECT_FALSE(house.enter("a", nothing));
    EXPECT_TRUE(house.enter("b", nothing)) << "gone again at once";
    auto known = house.enter("c", nothing);
    EXPECT_TRUE(known.asks("c", true));
    EXPECT_TRUE(known.asks("c", true));
    const auto d = house.enter("d", nothing), e = house.enter("e", nothing);
    EXPECT_TRUE(d && e) << "who is logged in is no stranger";
}

TEST(Guests, AStrangerTakesThePlaceOfTheOldestOfTheAddressWithMost) {
    Guests house({100, 4, 4});
    int left = 0;
    std::vector<Guests::Guest> slow;
    for (int i = 0; i < 4; ++i) slow.push_back(house.enter("a", [&left, i] { left = left * 10 + i + 1; }));
    EXPECT_FALSE(house.enter("a", nothing));
    const auto b = house.enter("b", nothing);
    EXPECT_TRUE(b);
    EXPECT_EQ(left, 1) << "the first of them";
    const auto c = house.enter("c", nothing);
    EXPECT_TRUE(c);
    EXPECT_EQ(left, 12);
    EXPECT_FALSE(house.enter("b", nothing)) << "two each: nobody has more than the asker would";
    EXPECT_FALSE(slow.front().asks("a", false)) << "who was put out comes in no more";
}

TEST(Guests, ThereIsAnEndToThemAll) {
    Guests house({2, 2, 2});
    auto a = house.enter("a", nothing), b = house.enter("b", nothing);
    EXPECT_TRUE(a.asks("a", true) && b.asks("b", true));
    EXPECT_FALSE(house.enter("c", nothing));
}

TEST(Guests, BehindAProxyTheForwardedAddressCounts) {
    Guests house({100, 100, 2});
    std::vector<Guests::Guest> all;
    for (int i = 0; i < 5; ++i) all.push_back(house.enter("", nothing));
    EXPECT_TRUE(all[0].asks("a", false) && all[1].asks("a", false));
    EXPECT_FALSE(all[2].asks("a", false));
    EXPECT_TRUE(all[3].asks("b", false));
    EXPECT_TRUE(all[0].asks("b", false)) << "one connection carries many";
    EXPECT_TRUE(all[4].asks("a", false));
}

void expect_open(Over over) {
    const store::TestFolder folder;
    ServeOptions options;
    options.data = new_data(folder.path() + "/data");
    options.port = 0;
    if (over == Over::https) {
        options.certificate = folder.path() + "/certificate.pem";
        options.key = folder.path() + "/key.pem";
        ASSERT_TRUE(make_certificate(options.certificate, options.key));
    }
    Serving serving(options);
    const int port = serving.port();
    ASSERT_GT(port, 0) << serving.said();
    // 200 that send a byte now and then, from two addresses; each comes again when it is put out.
    std::atomic<bool> enough{false};
    std::vector<std::thread> attackers;
    for (int i = 0; i < 200; ++i)
        attackers.emplace_back([&, i] {
            while (!enough) {
                Raw slow(port, over, i % 2 == 0 ? "127.0.0.2" : "127.0.0.3");
                if (!slow.send("GET /api/session HTTP/1.1\r\nHost: localhost\r\n")) continue;
                for (int beat = 0; beat < 20 && !enough; ++beat) {
                    std::this_thread::sleep_for(std::chrono::milliseconds(100));
                    if (!slow.send("x")) break;
                }
            }
        });
    std::this_thread::sleep_for(std::chrono::milliseconds(500));
    int answered = 0;
    double longest = 0;
    for (int i = 0; i < 20; ++i) {
        const auto start = Clock::now();
        Raw raw(port, over);
        raw.send("GET /api/session HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n");
        answered += status_in(raw.receive(1u << 20)) == 200 ? 1 : 0;
        longest = std::max(longest, seconds_since(start));
    }
    enough = true;
    for (auto& attacker : attackers) attacker.join();
    EXPECT_EQ(answered, 20) << "the workbench stays open to others";
    EXPECT_LT(longest, 5) << "s; a bound for a busy machine, the bench has the figure";
}

TEST(Budget, SlowConnectionsCloseTheWorkbenchToNobodyElse) {
    expect_open(Over::http);
}

TEST(Budget, SlowConnectionsCloseTheWorkbenchToNobodyElseUnderTls) {
    expect_open(Over::https);
}

TEST(Budget, OnePersonTakesEightLiveStreamsAndNoMore) {
    EventStream events;
    std::vector<std::shared_ptr<Subscriber>> own;
    for (std::size_t i = 0; i < EventStream::most_of_person; ++i) {
        own.push_back(events.subscribe(1, "", 7));
        EXPECT_TRUE(own.back());
    }
    EXPECT_EQ(own.size(), 8u);
    EXPECT_FALSE(events.subscribe(2, "", 7));
    EXPECT_TRUE(events.subscribe(1, "", 8)) << "another person";
    events.unsubscribe(own.front());
    EXPECT_TRUE(events.subscribe(1, "", 7));
}

TEST(Budget, LiveStreamsArePartedByPersonOverTheNetwork) {
    TestShop shop(64);
    const long long job = shop.job();
    const auto sam = shop.person("Sam", "reader");
    const int port = shop.server->port();
    const auto listen = [&](const Client& who) {
        auto stream = std::make_unique<Raw>(port);
        stream->send("GET " + path_of(job, "/events") + " HTTP/1.1\r\nHost: 127.0.0.1\r\nCookie: " +
                     cookie_name(port) + "=" + who.cookie + "\r\n\r\n");
        const std::string answer = stream->receive(12);
        return std::pair(std::move(stream), status_in(answer + "\r\n"));
    };
    std::vector<std::unique_ptr<Raw>> own;
    for (int n = 0; n < 8; ++n) {
        auto [stream, status] = listen(*shop.pat);
        EXPECT_EQ(status, 200) << n;
        own.push_back(std::move(stream));
    }
    EXPECT_NE(listen(*shop.pat).second, 200) << "the ninth";
    EXPECT_EQ(listen(*sam).second, 200) << "another person";
}

// What stands in the code where nobody sets it otherwise.
TEST(Budget, BoundsAreThoseThatWerePromised) {
    const GuestLimits guests;
    EXPECT_EQ(guests.all, 512u);
    EXPECT_EQ(guests.strangers, 64u);
    EXPECT_EQ(guests.strangers_of_address, 32u);
    EXPECT_EQ(most_headers, 64u);
    EXPECT_EQ(longest_line, 8u << 10);
    EXPECT_EQ(longest_head, 32u << 10);
    const ConnectionTimes times;
    EXPECT_EQ(times.head, std::chrono::seconds(10));
    EXPECT_EQ(times.body, std::chrono::seconds(30));
}

// Questions asked one after the other, each held until told to go.
struct Asked {
    Questions& questions;
    std::mutex mutex;
    std::condition_variable changed;
    std::vector<long long> order;  // of persons, as they got their turn
    std::size_t let_go = 0;
    std::vector<std::thread> threads;

    void ask(long long person) {
        threads.emplace_back([this, person] {
            const auto turn = questions.take(person, {});
            std::unique_lock lock(mutex);
            order.push_back(person);
            const std::size_t mine = order.size();
            changed.notify_all();
            changed.wait(lock, [&] { return let_go >= mine; });
        });
        std::this_thread::sleep_for(std::chrono::milliseconds(100));
    }
    // Lets one more go, in the order of their turns, and waits until so many have had theirs.
    void go(std::size_t turns) {
        std::unique_lock lock(mutex);
        ++let_go;
        changed.notify_all();
        EXPECT_TRUE(changed.wait_for(lock, std::chrono::seconds(5), [&] { return order.size() >= turns; }));
    }
    std::vector<long long> turns() {
        const std::lock_guard lock(mutex);
        return order;
    }
    ~Asked() {
        {
            const std::lock_guard lock(mutex);
            let_go = 1000;
        }
        changed.notify_all();
        for (auto& thread : threads) thread.join();
    }
};

TEST(Questions, ThePersonWithFewestUnderWayComesFirst) {
    Questions questions({2, 2, 8, std::chrono::seconds(20)});
    Asked asked{questions};
    for (const long long person : {1, 1, 1, 1, 2}) asked.ask(person);
    asked.go(3);
    EXPECT_EQ(asked.turns(), (std::vector<long long>{1, 1, 2}))
        << "the other's before the third of the first";
    asked.go(4);
    EXPECT_EQ(asked.turns().back(), 1);
}

TEST(Questions, OnePersonNeverHasAllPlaces) {
    Questions questions({3, 2, 8, std::chrono::seconds(20)});
    Asked asked{questions};
    for (const long long person : {1, 1, 1, 1}) asked.ask(person);
    EXPECT_EQ(asked.turns().size(), 2u);
    asked.ask(2);
    EXPECT_EQ(asked.turns(), (std::vector<long long>{1, 1, 2})) << "at once, though others wait";
}

TEST(Questions, AreBoundedInNumberAndTimeAndEndWithTheirAsker) {
    Questions questions({1, 1, 1, std::chrono::milliseconds(300)});
    const auto status_of = [&](const std::function<void()>& work) {
        try {
            work();
        } catch (const HttpError& stopped) {
            return stopped.status;
        }
        return 200;
    };
    const auto turn = questions.take(1, {});
    std::thread waits(
        [&] { EXPECT_EQ(status_of([&] { questions.take(1, {}); }), 503) << "its time is over"; });
    std::this_thread::sleep_for(std::chrono::milliseconds(100));
    EXPECT_EQ(status_of([&] { questions.take(1, {}); }), 429) << "one waits already";
    EXPECT_EQ(status_of([&] { questions.take(2, [] { return false; }); }), 499) << "nobody waits for it";
    EXPECT_EQ(status_of([&] { turn.check(); }), 200);
    waits.join();
    std::this_thread::sleep_for(std::chrono::milliseconds(100));
    EXPECT_EQ(status_of([&] { turn.check(); }), 503) << "at work longer than it may";
}

Json heavy_question(int n) {
    return {{"edits", {{{"key", "head.mass"}, {"value", std::to_string(20 + n) + " kg"}}}},
            {"results", {"hold", "find", "shape", "cut", "prove"}},
            {"drawings", Json::array({{{"name", "plan"}}, {{"name", "section"}}})}};
}

TEST(Budget, ManyQuestionsOfOneReaderHoldUpNobodyElse) {
    TestShop shop;
    const long long job = shop.job();
    const auto one = shop.person("Rae", "reader");
    std::atomic<int> good{0}, refused{0}, other{0};
    std::vector<std::thread> askers;
    for (int n = 0; n < 40; ++n)
        askers.emplace_back([&, n] {
            Client rae(shop.server->port());
            rae.cookie = one->cookie;
            rae.csrf = one->csrf;
            const int status = rae.post(path_of(job, "/whatif"), heavy_question(n)).status;
            ++(status == 200 ? good : status == 429 || status == 503 ? refused : other);
        });
    const auto start = Clock::now();
    EXPECT_EQ(shop.pat->post(path_of(job, "/whatif"), heavy_question(100)).status, 200);
    EXPECT_LT(seconds_since(start), 5) << "s";
    for (auto& asker : askers) asker.join();
    EXPECT_EQ(good + refused, 40);
    EXPECT_GT(good, 0);
}

// Resident now, MiB; its peak begins anew from here.
double memory_now(const char* what = "VmRSS:") {
    std::ifstream status("/proc/self/status");
    for (std::string word; status >> word;)
        if (word == what) {
            double kib = 0;
            status >> kib;
            return kib / 1024;
        }
    return 0;
}
void begin_peak() {
    std::ofstream("/proc/self/clear_refs") << 5;
}

// Of a head of thirty-two valves a question takes some megabytes; a few are worked on at a time, the others
// wait or are sent away.
TEST(Budget, FortyQuestionsAtOnceTakeTheMemoryOfAFew) {
    TestShop shop;
    const long long job = job_of_32(shop, places::root);
    const auto one = shop.person("Rae", "reader");
    ASSERT_EQ(one->post(path_of(job, "/whatif"), heavy_question(0)).status, 200);
    begin_peak();
    [[maybe_unused]] const double before = memory_now();
    std::atomic<int> good{0}, refused{0}, other{0};
    std::vector<std::thread> askers;
    for (int n = 1; n <= 40; ++n)
        askers.emplace_back([&, n] {
            Client rae(shop.server->port());
            rae.cookie = one->cookie;
            rae.csrf = one->csrf;
            const int status = rae.post(path_of(job, "/whatif"), heavy_question(n)).status;
            ++(status == 200 ? good : status == 429 || status == 503 ? refused : other);
        });
    for (auto& asker : askers) asker.join();
    EXPECT_EQ(other, 0);
    EXPECT_GT(good, 0);
    EXPECT_GT(refused, 0);
#if !defined(_GLIBCXX_ASSERTIONS)
    EXPECT_LT(memory_now("VmHWM:") - before, 200) << "MiB; forty worked on at once took 2 500";
#endif
}

// Processor time a process has taken so far, s (proc(5): fields 14 and 15 of stat, in clock ticks).
double processor_time(pid_t pid) {
    std::ifstream stat("/proc/" + std::to_string(pid) + "/stat");
    std::string rest;
    std::getline(stat, rest);
    std::istringstream fields(rest.substr(rest.rfind(')') + 2));
    std::string word;
    double ticks = 0;
    for (int field = 3; field <= 15 && fields >> word; ++field)
        if (field >= 14) ticks += std::stod(word);
    return ticks / static_cast<double>(::sysconf(_SC_CLK_TCK));
}

// Until the server is at rest: less than a twentieth of a core over half a second.
void wait_for_rest(pid_t pid) {
    for (int i = 0; i < 120; ++i) {
        const double before = processor_time(pid);
        std::this_thread::sleep_for(std::chrono::milliseconds(500));
        if (processor_time(pid) - before < 0.025) return;
    }
}

// The whole program: thirty questions of three people whose pages are closed at once cost a small part of
// what thirty answers do.
TEST(Budget, QuestionsWhoseAskersHaveHungUpAreNotAnswered) {
    Served shop;
    ASSERT_GT(shop.port, 0) << shop.serving.said();
    Serving& serving = shop.serving;
    Client& pat = shop.pat;
    const int port = shop.port;
    const long long job = shop.job;
    std::vector<std::unique_ptr<Client>> people;
    for (const std::string name : {"Rae", "Sid", "Tom"}) {
        pat.post("/api/people", {{"name", name}, {"role", "reader"}, {"password", good_password}});
        people.push_back(std::make_unique<Client>(port));
        ASSERT_EQ(people.back()->log_in(name).status, 200);
    }
    wait_for_rest(serving.pid());
    constexpr int whole = 5, of_each = 10;
    double start = processor_time(serving.pid());
    for (int n = 0; n < whole; ++n)
        ASSERT_EQ(pat.post(path_of(job, "/whatif"), heavy_question(1000 + n)).status, 200);
    const double one = (processor_time(serving.pid()) - start) / whole;
    wait_for_rest(serving.pid());
    start = processor_time(serving.pid());
    {
        std::vector<std::unique_ptr<Raw>> pages;
        int number = 0;
        for (const auto& who : people)
            for (int n = 0; n < of_each; ++n) {
                const std::string body = heavy_question(++number).dump();
                pages.push_back(std::make_unique<Raw>(port));
                ASSERT_TRUE(pages.back()->send(
                    "POST " + path_of(job, "/whatif") + " HTTP/1.1\r\nHost: 127.0.0.1\r\nCookie: " +
                    cookie_name(port) + "=" + who->cookie + "\r\nX-CSRF-Token: " + who->csrf +
                    "\r\nContent-Type: application/json\r\nContent-Length: " + std::to_string(body.size()) +
                    "\r\n\r\n" + body));
            }
    }
    wait_for_rest(serving.pid());
    const double spent = processor_time(serving.pid()) - start;
    EXPECT_LT(spent, one * 3 * of_each / 2) << "s of processor time; one answer takes " << one;
    EXPECT_EQ(pat.post(path_of(job, "/whatif"), heavy_question(2000)).status, 200) << "it goes on";
    std::printf("one answer %.3f s, thirty that nobody waits for %.3f s\n", one, spent);
    std::fflush(stdout);  // a server forked later would say it again
}

// Nor are papers that are printed: a sheet of thirty-two valves is a seventh of a second's work.
TEST(Budget, PapersWhoseAskersHaveHungUpAreNotMade) {
    Served shop;
    ASSERT_GT(shop.port, 0) << shop.serving.said();
    Serving& serving = shop.serving;
    Client& pat = shop.pat;
    const int port = shop.port;
    const long long job = shop.job;
    // Another width of the paper's text each time would need another job; another part of the seats does.
    const auto sheet = [&](int n) {
        return path_of(job, "/papers/sheet.pdf?look=1&only=" + std::to_string(1 + n % 4) + "I");
    };
    ASSERT_EQ(pat.get(sheet(0)).status, 200);
    wait_for_rest(serving.pid());
    constexpr int whole = 5, left = 24;
    double start = processor_time(serving.pid());
    for (int n = 0; n < whole; ++n) ASSERT_EQ(pat.get(sheet(n)).status, 200);
    const double one = (processor_time(serving.pid()) - start) / whole;
    wait_for_rest(serving.pid());
    start = processor_time(serving.pid());
    {
        std::vector<std::unique_ptr<Raw>> pages;
        for (int n = 0; n < left; ++n) {
            pages.push_back(std::make_unique<Raw>(port));
            ASSERT_TRUE(pages.back()->send("GET " + sheet(n) + " HTTP/1.1\r\nHost: 127.0.0.1\r\nCookie: " +
                                           cookie_name(port) + "=" + pat.cookie + "\r\n\r\n"));
        }
    }
    wait_for_rest(serving.pid());
    const double spent = processor_time(serving.pid()) - start;
    EXPECT_LT(spent, one * left / 2) << "s of processor time; one sheet takes " << one;
    EXPECT_EQ(pat.get(sheet(1)).status, 200) << "it goes on";
    std::printf("one sheet %.3f s, %d that nobody waits for %.3f s\n", one, left, spent);
    std::fflush(stdout);  // a server forked later would say it again
}

TEST(Budget, WorkingOutAheadIsAMachinistsAndHoldsUpNoImport) {
    TestShop shop;
    const long long job = shop.job();
    EXPECT_EQ(shop.person("Rae", "reader")->post(path_of(job, "/prepare"), Json::object()).status, 403);
    Tasks tasks;
    std::atomic<bool> over{false};
    const auto wait = [&](TaskReport&) -> store::Answer<long long> {
        while (!over) std::this_thread::sleep_for(std::chrono::milliseconds(5));
        return 1;
    };
    EXPECT_TRUE(tasks.start(1, TaskKind::prepare, wait));
    EXPECT_FALSE(tasks.start(1, TaskKind::prepare, wait)) << "one a person";
    EXPECT_TRUE(tasks.start(2, TaskKind::prepare, wait));
    EXPECT_FALSE(tasks.start(3, TaskKind::prepare, wait));
    EXPECT_TRUE(tasks.start(4, TaskKind::import_, wait)) << "a lead's import";
    over = true;
}

}  // namespace
}  // namespace seatwright::server
