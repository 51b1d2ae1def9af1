// The head of a request as RFC 9112 (message syntax) and RFC 9110 (names, methods) have it, and the bounds of
// request_head.hpp.
#include <gtest/gtest.h>

#include "server/http/path_pattern.hpp"
#include "server/http/request_head.hpp"

namespace seatwright::server {
namespace {

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

}  // namespace
}  // namespace seatwright::server
