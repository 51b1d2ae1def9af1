// Requests made to end the server or to eat its memory, against `serve` in a process of its own whose memory
// is looked up afterwards. Attackers are few, go on for seconds, and stay on loopback.
#include <gtest/gtest.h>

#include <algorithm>

#include "certificate.hpp"
#include "client.hpp"
#include "process.hpp"
#include "raw.hpp"
#include "server/intake/import.hpp"

namespace seatwright::server {
namespace {

// `serve` in a child, with its owner Pat.
struct Target {
    explicit Target(Over over = Over::http) {
        options.data = new_data(folder.path() + "/data");
        options.port = 0;
        if (over == Over::https) {
            options.certificate = folder.path() + "/certificate.pem";
            options.key = folder.path() + "/key.pem";
            made = make_certificate(options.certificate, options.key);
        }
        serving = std::make_unique<Serving>(options);
        port = serving->port();
    }
    bool answers(Over over = Over::http) const {
        Raw raw(port, over);
        raw.send("GET /api/session HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n");
        return status_in(raw.receive(1u << 20)) == 200;
    }
    store::TestFolder folder;
    ServeOptions options;
    bool made = true;
    std::unique_ptr<Serving> serving;
    int port = 0;
};

std::string ask(int port, const std::string& request, std::size_t most = 1u << 20) {
    Raw raw(port);
    raw.send(request);
    return raw.receive(most);
}

TEST(Hostile, AnEditKeyOfAnyLengthIsRefusedInASentence) {
    Target target;
    ASSERT_GT(target.port, 0) << target.serving->said();
    Client pat(target.port);
    pat.take_session(pat.post("/api/owner", {{"name", "Pat"}, {"password", good_password}}));
    const long long job =
        pat.post("/api/jobs", {{"from", "example"}, {"example", "wedge"}}).json().value("id", 0LL);
    ASSERT_GT(job, 0);
    ASSERT_EQ(
        pat.post("/api/people", {{"name", "Rae"}, {"role", "reader"}, {"password", good_password}}).status,
        201);
    Client rae(target.port);
    ASSERT_EQ(rae.log_in("Rae").status, 200);
    for (const std::size_t length : {201u, 30'000u, 900'000u}) {
        const std::string key = std::string(length - 3, 'a') + "[0]";
        for (const Json& value : {Json(1), Json{{"width", 1}}, Json(nullptr)}) {
            const auto answer =
                rae.post(path_of(job, "/whatif"), {{"edits", {{{"key", key}, {"value", value}}}}});
            EXPECT_EQ(answer.status, 400) << length << " " << value;
            EXPECT_NE(answer.error().find("at most 200 characters"), std::string::npos)
                << answer.text.substr(0, 300);
            EXPECT_LT(answer.text.size(), 1000u) << "the key must not come back whole";
        }
    }
    EXPECT_TRUE(target.answers()) << "the server must still be there";
}

TEST(Hostile, TextsNestedWithoutEndAreRefusedWhereverTheyComeIn) {
    Target target;
    Client pat(target.port);
    pat.take_session(pat.post("/api/owner", {{"name", "Pat"}, {"password", good_password}}));
    const long long sound =
        pat.post("/api/jobs", {{"from", "example"}, {"example", "wedge"}}).json().value("id", 0LL);
    ASSERT_GT(sound, 0);
    pat.post("/api/people", {{"name", "Max"}, {"role", "machinist"}, {"password", good_password}});
    Client max(target.port);  // what a machinist changes is looked through for limits first
    ASSERT_EQ(max.log_in("Max").status, 200);
    for (const int levels : {50'000, 500'000}) {
        std::string dotted = "a", opened, closed;
        for (int i = 0; i < levels; ++i) dotted += ".a";
        for (int i = 0; i < levels / 2; ++i) opened += "{a=", closed += "}";
        for (const std::string& text :
             {dotted + " = 1\n", "[" + dotted + "]\n", "[[" + dotted + "]]\n",
              "a = " + opened + "1" + closed + "\n", std::string(static_cast<std::size_t>(levels), '[')}) {
            const std::string words = text.substr(0, 20) + " of " + std::to_string(levels);
            EXPECT_EQ(max.send("PUT", path_of(sound), Json{{"version", 1}, {"text", text}}.dump()).status,
                      400)
                << words;
            const Json shelf{{"version", 1}, {"text", text}};
            EXPECT_EQ(pat.send("PUT", "/api/shelf", shelf.dump()).status, 400) << words;
            const Json job = {{"from", "text"}, {"text", text}};
            // A large file is read in a task of its own.
            EXPECT_EQ(pat.post("/api/jobs", job).status, text.size() > large_text ? 202 : 400) << words;
            const Json with_shop = {{"from", "text"}, {"text", "units = \"mm\"\n"}, {"shop_text", text}};
            EXPECT_EQ(pat.post("/api/jobs", with_shop).status, 400) << words;
            ASSERT_TRUE(target.answers()) << words << ": the server must still be there";
        }
    }
}

TEST(Hostile, ByteRangesAreNotOffered) {
    Target target;
    const std::string plain = "GET / HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n";
    const std::string whole = ask(target.port, plain + "\r\n");
    ASSERT_EQ(status_in(whole), 200);
    std::string ranges = "Range: bytes=0-";
    for (int i = 1; i < 2500; ++i) ranges += ",0-";
    for (const std::string& header :
         {ranges, std::string("Range: bytes=0-3"), std::string("range:bytes=-1,5-"),
          std::string("Range: bytes=9-2"), std::string("Range: all of it")}) {
        const std::string answer = ask(target.port, plain + header + "\r\n\r\n", 64u << 20);
        EXPECT_EQ(answer, whole) << header.substr(0, 30) << ": " << answer.size() << " bytes";
    }
    EXPECT_EQ(whole.find("Content-Range"), std::string::npos);
    const std::string head = ask(target.port, "HEAD" + plain.substr(3) + "\r\n");
    EXPECT_EQ(status_in(head), 200);
    EXPECT_EQ(head.find("Accept-Ranges"), std::string::npos) << head;
}

// A start and then lines that never end; given up after `most` bytes.
std::string flooded(int port, Over over, const std::string& start, const std::string& more) {
    Raw raw(port, over);
    std::string piece;
    while (piece.size() < (1u << 20)) piece += more;
    if (!raw.send(start)) return {};
    for (int sent = 0; sent < 48; ++sent)
        if (!raw.send(piece)) break;
    return raw.receive(1u << 16);
}

void expect_bounded(Over over) {
    Target target(over);
    ASSERT_TRUE(target.made);
    ASSERT_TRUE(target.answers(over)) << target.serving->said();
    const double before = target.serving->most_memory();
    struct Flood {
        std::string start, more;
    };
    const std::string line = "GET / HTTP/1.1\r\n", body = "POST /api/session HTTP/1.1\r\nHost: localhost\r\n";
    const std::vector<Flood> floods{
        {line, "x-one: " + std::string(1000, 'a') + "\r\n"},                    // headers without end
        {line, "x: y\r\n"},                                                     // small ones
        {line + "x-one: ", std::string(1000, 'a')},                             // one header line without end
        {"GET /", std::string(1000, 'a')},                                      // an address without end
        {"", "\r\n"},                                                           // nothing, again and again
        {body + "Transfer-Encoding: chunked\r\n\r\n", std::string(1000, '0')},  // the length of a chunk
        {"PRI / HTTP/1.1\r\nHost: localhost\r\n\r\n", std::string(1000, 'a')},  // a body without a length
    };
    std::vector<std::thread> attackers;
    for (const auto& flood : floods)
        for (int twice = 0; twice < 2; ++twice)
            attackers.emplace_back([&] { flooded(target.port, over, flood.start, flood.more); });
    for (auto& attacker : attackers) attacker.join();
    EXPECT_TRUE(target.answers(over));
    EXPECT_LT(target.serving->most_memory() - before, 40) << "MiB more than before the floods";
}

TEST(Hostile, AHeadWithoutEndCostsNoMemory) {
    expect_bounded(Over::http);
}

TEST(Hostile, AHeadWithoutEndCostsNoMemoryUnderTls) {
    expect_bounded(Over::https);
}

TEST(Hostile, WhatIsTooLongInAHeadIsSaidInASentence) {
    Target target;
    const std::string start = "GET /api/session HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n";
    std::string sixty_two, many, large;
    for (int i = 0; i < 62; ++i) sixty_two += "x-" + std::to_string(i) + ": y\r\n";
    for (int i = 0; i < 63; ++i) many += "x-" + std::to_string(i) + ": y\r\n";
    for (int i = 0; i < 5; ++i) large += "x: " + std::string(7000, 'a') + "\r\n";
    EXPECT_EQ(status_in(ask(target.port, start + sixty_two + "\r\n")), 200) << "64 with Host and Connection";
    const auto refused = [&](const std::string& request, int status, const std::string& words) {
        const std::string answer = ask(target.port, request);
        EXPECT_EQ(status_in(answer), status) << answer.substr(0, 200);
        EXPECT_NE(answer.find(words), std::string::npos) << answer;
        EXPECT_NE(answer.find("X-Content-Type-Options: nosniff"), std::string::npos) << answer;
    };
    refused(start + many + "\r\n", 431, "the request has more than 64 header lines");
    refused(start + large + "\r\n", 431, "the request's head is longer than 32 KiB");
    refused(start + "x: " + std::string(9000, 'a') + "\r\n\r\n", 431,
            "a header line of the request is longer than 8 KiB");
    refused("GET /" + std::string(9000, 'a') + " HTTP/1.1\r\n\r\n", 414,
            "the address asked for is longer than 8 KiB");
    EXPECT_TRUE(target.answers());
}

}  // namespace
}  // namespace seatwright::server
