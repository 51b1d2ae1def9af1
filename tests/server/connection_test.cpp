// Connections as RFC 9112 has them: requests one after the other, each with its own bytes and its own time.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <mutex>
#include <thread>

#include "../store/folder.hpp"
#include "attackers.hpp"
#include "certificate.hpp"
#include "server/http/web_server.hpp"

namespace seatwright::server {
namespace {

using namespace std::chrono_literals;
using Clock = std::chrono::steady_clock;

double seconds_of(const std::function<void()>& work) {
    const auto start = Clock::now();
    work();
    return std::chrono::duration<double>(Clock::now() - start).count();
}

// An answer without an end, told by the test.
class Told : public Live {
  public:
    void listen(std::function<void()> wake) override {
        const std::lock_guard lock(mutex_);
        wake_ = std::move(wake);
    }
    std::optional<std::string> take() override {
        const std::lock_guard lock(mutex_);
        return over_ ? std::nullopt : std::optional(std::exchange(text_, {}));
    }
    std::optional<std::string> heartbeat() override {
        return over_ ? std::nullopt : std::optional<std::string>("beat;");
    }
    void tell(const std::string& text) {
        const std::lock_guard lock(mutex_);
        text_ += text;
        if (wake_) wake_();
    }
    void end() {
        over_ = true;
        tell("");
    }

  private:
    std::mutex mutex_;
    std::function<void()> wake_;
    std::string text_;
    std::atomic<bool> over_{false};
};

// A server with short times whose one answer says what was asked.
struct Echo {
    std::mutex mutex;
    std::vector<std::string> seen;
    std::size_t most_body = 100;
    std::optional<Response> refused;
    std::function<void(const Request&)> meanwhile;
    std::shared_ptr<Live> live;
    std::unique_ptr<WebServer> server;

    explicit Echo(ConnectionTimes times = {300ms, 300ms, 300ms, 300ms, 300ms, 300ms, 25ms}) {
        WebOptions options;
        options.times = times;
        options.headers = {{"X-All", "yes"}, {"X-Own", "the server's"}};
        options.hear = [this](const Request&) {
            return Heard{refused, most_body, [this](const Request& asked) { return answer(asked); }};
        };
        server = std::make_unique<WebServer>(std::move(options));
    }
    Response answer(const Request& asked) {
        if (meanwhile) meanwhile(asked);
        const std::lock_guard lock(mutex);
        seen.push_back(asked.method + " " + asked.path + " " + asked.body);
        Response response;
        response.set_content("about " + asked.path + asked.param("q"), "text/plain");
        response.live = live;
        response.set_header("x-own", "the route's");
        response.set_header("X-Split", "one\r\nSet-Cookie: two");
        return response;
    }
    int port() const { return server->port(); }
};

std::string asked(const Echo& echo, const std::string& bytes) {
    Raw raw(echo.port());
    raw.send(bytes);
    return raw.receive(1u << 20);
}

TEST(Connection, GivesEachRequestItsOwnBytesAlsoWhenTheyComeAtOnce) {
    Echo echo;
    const std::string post = "POST /1 HTTP/1.1\r\nContent-Length: 5\r\n\r\nGET /",
                      get = "GET /2?q=%2b%20a+b HTTP/1.1\r\nConnection: close\r\n\r\n";
    const std::string answers = asked(echo, post + get + "GET /3 HTTP/1.1\r\n\r\n");
    EXPECT_EQ(echo.seen, (std::vector<std::string>{"POST /1 GET /", "GET /2 "})) << "none after the last";
    EXPECT_NE(answers.find("Content-Length: 8\r\n"), std::string::npos) << answers;
    EXPECT_NE(answers.find("\r\n\r\nabout /1HTTP/1.1 200 OK\r\n"), std::string::npos) << answers;
    EXPECT_TRUE(answers.ends_with("\r\n\r\nabout /2+ a b")) << answers;
}

// More than one piece of what is written at a time, and more than one record of TLS.
TEST(Connection, LargeAnswersComeWholeOverBoth) {
    const store::TestFolder folder;
    const std::string certificate = folder.path() + "/certificate.pem", key = folder.path() + "/key.pem";
    ASSERT_TRUE(make_certificate(certificate, key));
    std::string large;
    for (int i = 0; large.size() < 3'000'000; ++i) large += std::to_string(i) + ",";
    for (const Over over : {Over::http, Over::https}) {
        WebOptions options;
        if (over == Over::https) {
            options.certificate = certificate;
            options.key = key;
        }
        options.hear = [&](const Request&) {
            return Heard{{}, 0, [&](const Request&) {
                             Response response;
                             response.set_fixed(large, "text/plain");
                             return response;
                         }};
        };
        WebServer server(std::move(options));
        Raw raw(server.port(), over);
        for (int twice = 0; twice < 2; ++twice) {
            const std::string answer = answer_over(raw, "GET /1 HTTP/1.1\r\n\r\n");
            EXPECT_TRUE(answer.ends_with("\r\n\r\n" + large)) << answer.size();
        }
    }
}

TEST(Connection, SaysEachHeaderOnceAndNoneThatIsTwoLines) {
    Echo echo;
    const std::string answer = asked(echo, "GET /1 HTTP/1.1\r\nConnection: close\r\n\r\n");
    EXPECT_NE(answer.find("X-All: yes\r\n"), std::string::npos) << answer;
    EXPECT_NE(answer.find("X-Own: the route's\r\n"), std::string::npos) << answer;
    EXPECT_EQ(answer.find("the server's"), std::string::npos) << answer;
    EXPECT_EQ(answer.find("Set-Cookie"), std::string::npos) << answer;
    const std::string head = asked(echo, "HEAD /1 HTTP/1.1\r\nConnection: close\r\n\r\n");
    EXPECT_NE(head.find("Content-Length: 8\r\n"), std::string::npos) << head;
    EXPECT_TRUE(head.ends_with("\r\n\r\n")) << head;
    const std::string old = asked(echo, "GET /1 HTTP/1.0\r\n\r\n");
    EXPECT_NE(old.find("Connection: close\r\n"), std::string::npos) << old;
    EXPECT_EQ(status_in(asked(echo, "GET http://a/1 HTTP/1.1\r\n\r\n")), 400);
    EXPECT_EQ(status_in(asked(echo, "GET /1 HTTP/2.0\r\n\r\n")), 400);
}

TEST(Connection, ABodyNobodyReadIsNeverTheNextRequest) {
    Echo echo;
    echo.most_body = 10;
    const std::string inner = "GET /2 HTTP/1.1\r\n\r\n\r\n\r\n";
    const std::string answers = asked(echo, "POST /1 HTTP/1.1\r\nContent-Length: 23\r\n\r\n" + inner +
                                                "GET /3 HTTP/1.1\r\nConnection: close\r\n\r\n");
    EXPECT_EQ(status_in(answers), 413);
    EXPECT_EQ(echo.seen, (std::vector<std::string>{"GET /3 "}));
    const std::string too_long = "POST /1 HTTP/1.1\r\nContent-Length: 99999999999\r\n\r\n";
    EXPECT_EQ(status_in(asked(echo, too_long)), 413) << "at once, and the connection ends";
}

TEST(Connection, WhoWaitsForLeaveToSendABodyGetsIt) {
    Echo echo;
    Raw raw(echo.port());
    raw.send("POST /1 HTTP/1.1\r\nExpect: 100-continue\r\nContent-Length: 4\r\nConnection: close\r\n\r\n");
    const std::string yes = "HTTP/1.1 100 Continue\r\n\r\n";
    EXPECT_EQ(raw.receive(yes.size()), yes);
    raw.send("body");
    EXPECT_EQ(status_in(raw.receive(1u << 16)), 200);
    EXPECT_EQ(echo.seen, (std::vector<std::string>{"POST /1 body"}));
    echo.most_body = 3;
    EXPECT_EQ(status_in(asked(echo, "POST /1 HTTP/1.1\r\nExpect: 100-continue\r\nContent-Length: 4\r\n\r\n")),
              413);
}

TEST(Connection, AHeadAndABodyHaveTheirTimeAsAWhole) {
    Echo echo;
    const auto drip = [](Raw& raw, const std::string& bytes) {
        for (const char c : bytes) {
            if (!raw.send({c})) return;
            std::this_thread::sleep_for(30ms);
        }
    };
    for (const std::string start : {"", "POST / HTTP/1.1\r\nContent-Length: 99\r\n\r\n"}) {
        Raw raw(echo.port());
        raw.send(start);
        std::thread writer([&] { drip(raw, "GET / HTTP/1.1\r\nx: aaaaaaaaaaaaaa"); });
        std::string answer;
        EXPECT_LT(seconds_of([&] { answer = raw.receive(12); }), 0.8) << "each byte came soon enough";
        writer.join();
        EXPECT_EQ(status_in(answer + " "), 408) << answer;
    }
    EXPECT_TRUE(echo.seen.empty());
}

TEST(Connection, EndsWhenNobodyAsksAndWhenTheServerStops) {
    Echo echo;
    Raw idle(echo.port());
    const double waited = seconds_of([&] { EXPECT_EQ(idle.receive(1), ""); });
    EXPECT_GT(waited, 0.25);
    EXPECT_LT(waited, 0.8);
    Echo patient({10s, 10s, 10s, 10s, 10s, 10s});
    Raw half(patient.port()), under_way(patient.port());
    half.send("GET / HT");
    std::atomic<bool> begun{false};
    patient.meanwhile = [&](const Request&) {
        begun = true;
        std::this_thread::sleep_for(200ms);
    };
    under_way.send("GET /1 HTTP/1.1\r\n\r\n");
    while (!begun) std::this_thread::sleep_for(1ms);
    EXPECT_LT(seconds_of([&] { patient.server->stop(); }), 2);
    EXPECT_EQ(half.receive(1), "");
    const std::string answer = under_way.receive(1u << 16);
    EXPECT_EQ(status_in(answer), 200) << "what is under way is answered";
    EXPECT_NE(answer.find("Connection: close"), std::string::npos) << answer;
    EXPECT_EQ(asked(patient, "GET / HTTP/1.1\r\n\r\n"), "");
}

TEST(Connection, KnowsWhenItsAskerHasGone) {
    Echo echo;
    std::atomic<int> found{0};
    echo.meanwhile = [&](const Request& asked) {
        for (int i = 0; i < 400 && asked.asker_there(); ++i) std::this_thread::sleep_for(5ms);
        found = asked.asker_there() ? 1 : 2;
    };
    {
        Raw raw(echo.port());
        raw.send("GET /1 HTTP/1.1\r\n\r\n");
        std::this_thread::sleep_for(50ms);
        EXPECT_EQ(found, 0);
    }
    for (int i = 0; i < 400 && found == 0; ++i) std::this_thread::sleep_for(5ms);
    EXPECT_EQ(found, 2);
}

TEST(Connection, TellsAnAnswerWithoutAnEndPieceByPiece) {
    Echo echo;
    const auto told = std::make_shared<Told>();
    echo.live = told;
    told->tell("first;");
    Raw raw(echo.port());
    raw.send("GET /1 HTTP/1.1\r\n\r\n");
    std::string heard;
    const auto hear = [&](const std::string& mark) {
        while (heard.find(mark) == std::string::npos) {
            const std::string more = raw.receive(1);
            if (more.empty()) return false;
            heard += more;
        }
        return true;
    };
    EXPECT_TRUE(hear("\r\n6\r\nfirst;\r\n"));
    told->tell("second;");
    EXPECT_TRUE(hear("\r\n7\r\nsecond;\r\n"));
    EXPECT_TRUE(hear("\r\n5\r\nbeat;\r\n"));
    told->end();
    EXPECT_TRUE(hear("\r\n0\r\n\r\n"));
    EXPECT_EQ(raw.receive(1), "");
    EXPECT_NE(heard.find("Transfer-Encoding: chunked\r\n"), std::string::npos) << heard;
}

// A page that listens while many write is woken some forty times a second, not for each event; nothing is
// lost, and the first of a burst waits for nobody.
TEST(Connection, WhatComesInABurstIsToldTogether) {
    Echo echo({300ms, 300ms, 300ms, 300ms, 300ms, 60s, 50ms});
    const auto told = std::make_shared<Told>();
    echo.live = told;
    Raw raw(echo.port());
    raw.send("GET /1 HTTP/1.1\r\n\r\n");
    std::string heard;
    while (heard.find("\r\n\r\n") == std::string::npos) heard += raw.receive(1);
    const std::size_t head = heard.size();
    const auto start = Clock::now();
    std::string all;
    std::thread burst([&] {
        for (int i = 0; i < 300; ++i) {
            const std::string one = fmt::format("{};", i);
            all += one;
            told->tell(one);
            std::this_thread::sleep_for(1ms);
        }
        std::this_thread::sleep_for(120ms);  // what it has not been given when it ends is not told
        told->end();
    });
    double first = 0;
    for (std::string more = raw.receive(1); !more.empty(); more = raw.receive(1)) {
        if (first == 0) first = std::chrono::duration<double>(Clock::now() - start).count();
        heard += more;
        if (heard.ends_with("\r\n0\r\n\r\n")) break;
    }
    burst.join();
    const double took = std::chrono::duration<double>(Clock::now() - start).count();
    std::string told_there;
    int pieces = 0;
    for (std::size_t at = head; at < heard.size();) {  // RFC 9112, 7.1
        const auto line = heard.find("\r\n", at);
        ASSERT_NE(line, std::string::npos);
        const auto size = std::stoul(heard.substr(at, line - at), nullptr, 16);
        if (size == 0) break;
        told_there += heard.substr(line + 2, size);
        at = line + 2 + size + 2;
        ++pieces;
    }
    EXPECT_EQ(told_there, all);
    EXPECT_LE(pieces, 2 + took / 0.050) << took;
    EXPECT_GE(pieces, 3) << "and not all at the end";
    EXPECT_LT(first, 0.050) << "the first went at once";
}

}  // namespace
}  // namespace seatwright::server
