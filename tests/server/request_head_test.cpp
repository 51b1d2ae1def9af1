// The head of a request as RFC 9112 (message syntax) and RFC 9110 (names, methods) have it, and the bounds of
// head.hpp; each connection's times, over a pair of sockets.
#include <gtest/gtest.h>
#include <sys/socket.h>
#include <unistd.h>

#include <algorithm>
#include <atomic>
#include <thread>

#include "server/http/connection.hpp"
#include "server/http/path_pattern.hpp"
#include "server/http/request_head.hpp"

namespace seatwright::server {
namespace {

using namespace std::chrono_literals;
using Clock = Transport::Clock;

int status_of(const std::string& text) {
    const auto head = judged(text);
    return head ? 0 : head.error().status;
}

TEST(RequestHead, IsTakenInPiecesOfAnySizeAndNoByteFurther) {
    const std::string head = "POST /api HTTP/1.1\r\nHost: a\r\nContent-Length: 4\r\n\r\n",
                      rest = "{}\r\nGET /";
    for (const std::size_t piece : {1u, 2u, 3u, 7u, 1000u}) {
        RequestHeadReader gatherer;
        const std::string all = head + rest;
        std::size_t at = 0;
        while (!gatherer.whole() && at < all.size()) at += gatherer.take(all.substr(at, piece));
        EXPECT_EQ(at, head.size()) << piece;
        EXPECT_EQ(gatherer.text(), head);
        EXPECT_FALSE(gatherer.refused());
        EXPECT_EQ(gatherer.take("more"), 0u);
    }
}

TEST(RequestHead, HoldsAtMostItsBounds) {
    const auto last_status = [](const std::string& bytes) {
        RequestHeadReader gatherer;
        gatherer.take(bytes);
        EXPECT_LE(gatherer.text().size(), longest_head);
        return gatherer.refused() ? gatherer.refused()->status : 0;
    };
    const std::string first = "GET / HTTP/1.1\r\n";
    const auto line = [](std::size_t bytes) { return "x: " + std::string(bytes - 5, 'a') + "\r\n"; };
    EXPECT_EQ(last_status(first + line(longest_line) + "\r\n"), 0);
    EXPECT_EQ(last_status(first + line(longest_line + 1) + "\r\n"), 431);
    EXPECT_EQ(last_status("GET /" + std::string(longest_line - 16, 'a') + " HTTP/1.1\r\n\r\n"), 0);
    EXPECT_EQ(last_status("GET /" + std::string(longest_line - 15, 'a') + " HTTP/1.1\r\n\r\n"), 414);
    std::string many;
    for (std::size_t i = 0; i < most_headers; ++i) many += "x: y\r\n";
    EXPECT_EQ(last_status(first + many + "\r\n"), 0);
    EXPECT_EQ(last_status(first + many + "x: y\r\n\r\n"), 431);
    const std::string four = line(8000) + line(8000) + line(8000) + line(4000);
    const std::size_t room = longest_head - first.size() - four.size() - 2;
    EXPECT_EQ(last_status(first + four + line(room) + "\r\n"), 0) << "exactly 32 KiB";
    EXPECT_EQ(last_status(first + four + line(room + 1) + "\r\n"), 431);
}

TEST(RequestHead, BareLineFeedsAndEmptyFirstLinesAreNoHead) {
    for (const std::string bytes : {"GET / HTTP/1.1\nHost: a\n\n", "\n", "GET / HTTP/1.1\r\nHost: a\n"}) {
        RequestHeadReader gatherer;
        gatherer.take(bytes);
        ASSERT_TRUE(gatherer.refused()) << bytes;
        EXPECT_EQ(gatherer.refused()->status, 400);
    }
}

TEST(RequestHead, TakesOutWhatIsNotOfferedAndNothingElse) {
    const auto head = judged(
        "POST /a HTTP/1.1\r\nHost: a\r\nRANGE: bytes=0-1\r\nIf-Range: \"x\"\r\nrange:bytes=1-\r\n"
        "Accept-Encoding: gzip\r\nContent-Length: 12\r\nX-Range: y\r\nContent-Type: "
        "application/json\r\n\r\n");
    ASSERT_TRUE(head);
    EXPECT_EQ(
        head->text,
        "POST /a HTTP/1.1\r\nHost: a\r\nX-Packing: gzip\r\nContent-Length: 12\r\nX-Range: y\r\nContent-Type: "
        "application/json\r\n\r\n");
    EXPECT_EQ(head->length, 12u);
}

TEST(RequestHead, ABodyIsTakenOnlyWhenItsEndIsKnown) {
    const std::string post = "POST / HTTP/1.1\r\nHost: a\r\n", get = "GET / HTTP/1.1\r\nHost: a\r\n";
    EXPECT_EQ(status_of(post + "Content-Length: 3\r\n\r\n"), 0);
    EXPECT_EQ(status_of(post + "\r\n"), 0) << "none at all";
    EXPECT_EQ(status_of(post + "Transfer-Encoding: chunked\r\n\r\n"), 411);
    EXPECT_EQ(status_of(post + "transfer-encoding : chunked\r\n\r\n"), 400) << "a blank before the colon";
    EXPECT_EQ(status_of(post + "Content-Length: 3\r\nTransfer-Encoding: chunked\r\n\r\n"), 411);
    EXPECT_EQ(status_of(post + "Content-Length: 3\r\nContent-Length: 3\r\n\r\n"), 400);
    for (const std::string wrong : {"", "-1", "+3", "3, 3", "0x3", "3 3", "99999999999999999999999"})
        EXPECT_EQ(status_of(post + "Content-Length: " + wrong + "\r\n\r\n"), 400) << wrong;
    EXPECT_EQ(status_of(get + "Content-Length: 3\r\n\r\n"), 400) << "it would be read as the next request";
    EXPECT_EQ(status_of(get + "Content-Length: 0\r\n\r\n"), 0);
    EXPECT_EQ(status_of(post + "Content-Length: 3\r\nContent-Encoding: gzip\r\n\r\n"), 415);
    EXPECT_EQ(status_of(post + "Content-Length: 3\r\nContent-Type: Multipart/mixed; boundary=x\r\n\r\n"),
              400);
}

TEST(RequestHead, LinesThatAreNoHeadersAreRefused) {
    const std::string get = "GET / HTTP/1.1\r\n";
    for (const std::string line :
         {"no colon", ": no name", "two words: x", " folded: x", "a: b\rc", "bell: \a"})
        EXPECT_EQ(status_of(get + line + "\r\n\r\n"), 400) << line;
    EXPECT_EQ(status_of(get + std::string("nul: \0x", 7) + "\r\n\r\n"), 400);
    EXPECT_EQ(status_of(get + "tab:\ta\tb\r\n\r\n"), 0);
    EXPECT_EQ(status_of(get + "word: \xC3\xA4\r\n\r\n"), 0) << "bytes over 127 are obs-text";
    for (const std::string method : {"PRI", "OPTIONS", "TRACE", "CONNECT", "get", ""})
        EXPECT_EQ(status_of(method + " / HTTP/1.1\r\n\r\n"), 405) << method;
}

TEST(PathPattern, MatchesSegmentBySegment) {
    const PathPattern paper("/api/jobs/{id}/papers/{file}");
    EXPECT_EQ(paper.match("/api/jobs/12/papers/plan-1.svg"), (std::vector<std::string>{"12", "plan-1.svg"}));
    for (const std::string path :
         {"/api/jobs/12/papers", "/api/jobs/12/papers/", "/api/jobs/12/papers/a/b", "/api/jobs//papers/a",
          "/api/jobs/x/papers/a", "/api/jobs/1234567890123456789/papers/a", "/api/jobs/12/papers/a b",
          "/api/jobs/12/papers/a%2fb", "api/jobs/12/papers/a", "/api/jobs/12/papers/a\n", "", "/"})
        EXPECT_FALSE(paper.match(path)) << path;
    EXPECT_TRUE(paper.match("/api/jobs/1/papers/" + std::string(120, 'a')));
    EXPECT_FALSE(paper.match("/api/jobs/1/papers/" + std::string(121, 'a')));
    EXPECT_TRUE(PathPattern("/api/jobs").match("/api/jobs"));
    EXPECT_FALSE(PathPattern("/api/jobs").match("/api/jobs/"));
}

// A connection served over a pair of sockets, with short times.
class Pair {
  public:
    explicit Pair(std::function<Next(httplib::Stream&)> answer) {
        ::socketpair(AF_UNIX, SOCK_STREAM, 0, ends_);
        visit_.times = {300ms, 300ms, 300ms, 300ms};
        visit_.most_requests = 100;
        visit_.open = [this] { return open.load(); };
        visit_.answer = [answer = std::move(answer)](httplib::Stream& stream, bool) {
            return answer(stream);
        };
        server_ = std::thread([this] {
            PlainTransport transport(ends_[0]);
            serve_connection(transport, visit_);
            ::close(ends_[0]);
        });
    }
    ~Pair() {
        ::close(ends_[1]);
        server_.join();
    }
    void send(const std::string& bytes) const { ::send(ends_[1], bytes.data(), bytes.size(), MSG_NOSIGNAL); }
    // Until the server ends the connection.
    std::string rest() const {
        std::string all, room(1000, '\0');
        for (ssize_t count = 0; (count = ::recv(ends_[1], room.data(), room.size(), 0)) > 0;)
            all.append(room, 0, static_cast<std::size_t>(count));
        return all;
    }
    std::atomic<bool> open{true};

  private:
    int ends_[2] = {-1, -1};
    Visit visit_;
    std::thread server_;
};

std::string all_of(httplib::Stream& stream) {
    std::string all;
    char one = 0;
    while (stream.read(&one, 1) == 1) all += one;
    return all;
}

double seconds_of(const std::function<void()>& work) {
    const auto start = Clock::now();
    work();
    return std::chrono::duration<double>(Clock::now() - start).count();
}

TEST(Connection, GivesEachRequestItsOwnBytesAlsoWhenTheyComeAtOnce) {
    std::vector<std::string> seen;
    {
        const Pair pair([&](httplib::Stream& stream) {
            seen.push_back(all_of(stream));
            return seen.size() == 2 ? Next::close : Next::go_on;
        });
        const std::string post = "POST /1 HTTP/1.1\r\nContent-Length: 5\r\n\r\n",
                          get = "GET /2 HTTP/1.1\r\n\r\n";
        pair.send(post + "GET /" + get);
        EXPECT_EQ(pair.rest(), "");
    }
    ASSERT_EQ(seen.size(), 2u);
    EXPECT_EQ(seen[0], "POST /1 HTTP/1.1\r\nContent-Length: 5\r\n\r\nGET /");
    EXPECT_EQ(seen[1], "GET /2 HTTP/1.1\r\n\r\n");
}

TEST(Connection, ABodyNobodyReadIsNeverTheNextRequest) {
    std::atomic<int> asked{0};
    const Pair pair([&](httplib::Stream&) { return ++asked, Next::go_on; });
    pair.send("POST /1 HTTP/1.1\r\nContent-Length: 22\r\n\r\nGET /2 HTTP/1.1\r\n\r\n\r\n\r\n");
    EXPECT_EQ(pair.rest(), "");
    EXPECT_EQ(asked, 1);
}

TEST(Connection, AHeadAndABodyHaveTheirTimeAsAWhole) {
    std::string body = "not asked";
    const auto drip = [](const Pair& pair, const std::string& bytes) {
        for (const char c : bytes) {
            pair.send({c});
            std::this_thread::sleep_for(30ms);
        }
    };
    {
        const Pair slow_head([&](httplib::Stream&) { return Next::close; });
        std::thread writer([&] { drip(slow_head, "GET / HTTP/1.1\r\nx: aaaaaaaaaaaaaa"); });
        std::string answer;
        EXPECT_LT(seconds_of([&] { answer = slow_head.rest(); }), 0.8) << "each byte came soon enough";
        writer.join();
        EXPECT_TRUE(answer.starts_with("HTTP/1.1 408 ")) << answer;
    }
    {
        const Pair slow_body([&](httplib::Stream& stream) {
            body = all_of(stream);
            return Next::go_on;
        });
        slow_body.send("POST / HTTP/1.1\r\nContent-Length: 1000\r\n\r\n");
        std::thread writer([&] { drip(slow_body, std::string(40, 'b')); });
        EXPECT_LT(seconds_of([&] { slow_body.rest(); }), 0.8);
        writer.join();
    }
    EXPECT_LT(std::count(body.begin(), body.end(), 'b'), 20) << body;
    EXPECT_GT(std::count(body.begin(), body.end(), 'b'), 0) << body;
}

TEST(Connection, EndsWhenNobodyAsksAndWhenTheServerStops) {
    const auto never = [](httplib::Stream&) { return Next::go_on; };
    const Pair idle(never);
    const double waited = seconds_of([&] { EXPECT_EQ(idle.rest(), ""); });
    EXPECT_GT(waited, 0.25);
    EXPECT_LT(waited, 0.8);
    Pair stopped(never);
    stopped.send("GET / HT");
    stopped.open = false;
    EXPECT_LT(seconds_of([&] { EXPECT_EQ(stopped.rest(), ""); }), 0.2);
}

}  // namespace
}  // namespace seatwright::server
