// What somebody who means harm tries: words that would be markup, bodies that never end, paths that climb,
// sessions put under somebody, guesses by the hundred. See also people_test.cpp.
#include <gtest/gtest.h>
#include <time.h>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <cmath>
#include <set>

#include "client.hpp"
#include "server/answers/drawings.hpp"

namespace seatwright::server {
namespace {

using Clock = std::chrono::steady_clock;

const std::string markup = "<script>alert(1)</script><img src=x onerror=\"alert(2)\">'\"&]]>";

void expect_harmless(const Answered& answer, const std::string& what) {
    EXPECT_EQ(answer.status, 200) << what << answer.text.substr(0, 200);
    EXPECT_EQ(answer.text.find("<script"), std::string::npos) << what;
    EXPECT_EQ(answer.text.find("<img"), std::string::npos) << what;
}

TEST(Security, WordsThatWouldBeMarkupStayWordsInEveryDrawingAndPaper) {
    TestShop shop;
    const long long job = shop.job();
    const Json edits = {{{"key", "title"}, {"value", markup}}, {{"key", "head.name"}, {"value", markup}}};
    ASSERT_EQ(shop.pat->post(path_of(job, "/edits"), {{"version", 1}, {"edits", edits}}).status, 200);
    const Json proof = {{"client_key", "markup-1"},
                        {"kind", "proof"},
                        {"head", "<b>h</b>"},
                        {"valve", "1I"},
                        {"units", "mm"},
                        {"values", {{"runout", 0.01}, {"by", markup}}}};
    ASSERT_EQ(shop.person(markup, "machinist")->post(path_of(job, "/entries"), proof).status, 201)
        << "somebody who is called that";
    const auto state = shop.pat->get(path_of(job, "/state"));
    EXPECT_EQ(state.json()["job"]["title"], markup) << "stored as typed";
    EXPECT_EQ(state.headers.find("Content-Type")->second, "application/json");
    EXPECT_EQ(state.headers.find("X-Content-Type-Options")->second, "nosniff");
    int seen = 0;
    bool shown = false;
    const auto drawings = state.json()["drawings"];
    for (const auto& drawing : drawings)
        for (const std::string form : {"page", "paper"}) {
            const std::string name = drawing["name"];
            const auto svg = shop.pat->get(path_of(job, "/drawings/" + name + ".svg?form=" + form));
            expect_harmless(svg, name);
            ++seen;
        }
    const auto papers = shop.pat->get(path_of(job, "/papers")).json()["papers"];
    for (const auto& paper : papers)
        for (const std::string page : paper["pages"]) {
            const auto svg = shop.pat->get(path_of(job, "/papers/" + page));
            expect_harmless(svg, page);
            shown = shown || svg.text.find("&lt;script&gt;") != std::string::npos;
            ++seen;
        }
    EXPECT_GT(seen, 20);
    EXPECT_TRUE(shown) << "the title is on the papers, as words";
}

TEST(Security, WhatIsNestedWithoutEndIsRefused) {
    TestShop shop;
    const long long job = shop.job();
    const auto deep = [](int depth) {
        return std::string(static_cast<std::size_t>(depth), '[') + "1" +
               std::string(static_cast<std::size_t>(depth), ']');
    };
    const std::string entry =
        R"({"client_key":"nested-1","kind":"proof","valve":"1I","units":"mm","values":{"trace":)";
    const auto answer = shop.pat->send("POST", path_of(job, "/entries"), entry + deep(200'000) + "}}");
    EXPECT_EQ(answer.status, 400);
    EXPECT_EQ(answer.error(), "the body is nested too deeply");
    Client nobody(shop.server->port());
    EXPECT_EQ(nobody.send("POST", "/api/session", deep(400'000)).status, 400);
    EXPECT_EQ(nobody.send("POST", "/api/session", R"({"name":"[[[[\\","password":"{{{{\"{"})").status, 401)
        << "brackets in words are words";
    const auto text = shop.pat->post("/api/jobs", {{"from", "text"}, {"text", "a = " + deep(100'000)}});
    EXPECT_EQ(text.status, 400) << text.text.substr(0, 200);
    EXPECT_EQ(shop.pat->get("/api/session").status, 200) << "the server goes on";
}

TEST(Security, PathsThatClimbOrNeverEndFindNothing) {
    TestShop shop;
    for (const std::string path : {"/../../etc/passwd", "/assets/../../secret", "/assets/..%2f..%2fsecret",
                                   "/%2e%2e/%2e%2e/etc/passwd", "/api/jobs/1/papers/../state",
                                   "/api/jobs/1/papers/..", "/api/jobs/99999999999999999999/state",
                                   "/api/tasks/%00", "/api/jobs/1/drawings/a%0d%0aSet-Cookie:x=y.svg"}) {
        const auto answer = shop.pat->get(path);
        EXPECT_TRUE(answer.status == 404 || answer.text.find("<!doctype html>") == 0 ||
                    answer.text.find("<html") != std::string::npos)
            << path << " " << answer.status;
        EXPECT_EQ(answer.text.find("root:"), std::string::npos) << path;
        EXPECT_EQ(answer.headers.count("Set-Cookie"), 0u) << path;
    }
    for (const std::size_t length : {4000, 8000, 20'000}) {
        const auto answer = shop.pat->get("/api/jobs/1/papers/" + std::string(length, 'a'));
        EXPECT_TRUE(answer.status == 404 || answer.status == 414) << length << ": " << answer.status;
    }
    EXPECT_EQ(shop.pat->get("/api/session").status, 200);
}

TEST(Security, ASessionPutUnderSomebodyIsNotTheOneTheyLogInWith) {
    TestShop shop;
    Client client(shop.server->port());
    const std::string planted(64, 'a');
    client.cookie = planted;
    EXPECT_EQ(client.get("/api/jobs").status, 401);
    const auto answer = client.log_in("Pat");
    ASSERT_EQ(answer.status, 200);
    EXPECT_NE(client.cookie, planted);
    EXPECT_NE(client.cookie, shop.pat->cookie) << "each login has a token of its own";
    Client other(shop.server->port());
    other.cookie = planted;
    EXPECT_EQ(other.get("/api/jobs").status, 401);
    // Logging out ends this session on the server, and no other.
    const std::string old = client.cookie;
    ASSERT_EQ(client.send("DELETE", "/api/session").status, 204);
    other.cookie = old;
    EXPECT_EQ(other.get("/api/jobs").status, 401);
    EXPECT_EQ(shop.pat->get("/api/jobs").status, 200);
}

TEST(Security, ANewPasswordEndsEveryOtherSessionAndGuessingTheOldOneIsSlowed) {
    TestShop shop;
    Client tablet(shop.server->port());
    ASSERT_EQ(tablet.log_in("Pat").status, 200);
    const auto change = [&](const std::string& old_one) {
        return shop.pat->send("PUT", "/api/session/password",
                              Json{{"old", old_one}, {"new", "another few words"}}.dump());
    };
    EXPECT_EQ(
        shop.pat->send("PUT", "/api/session/password", Json{{"old", good_password}, {"new", "short"}}.dump())
            .status,
        400);
    const auto changed = change(good_password);
    ASSERT_EQ(changed.status, 200);
    shop.pat->take_session(changed);
    EXPECT_EQ(tablet.get("/api/jobs").status, 401);
    EXPECT_EQ(shop.pat->get("/api/jobs").status, 200);
    EXPECT_EQ(tablet.log_in("Pat", good_password).status, 401);
    int status = 0;
    for (int i = 0; i < 8; ++i) status = change("guess number " + std::to_string(i)).status;
    EXPECT_EQ(status, 429) << "a session left open must not be a place to guess passwords";
}

TEST(Security, ManyGuessesAtOnceAreCountedOneByOne) {
    TestShop shop;
    std::atomic<int> checked{0}, slowed{0};
    const auto start = Clock::now();
    std::vector<std::thread> guessers;
    for (int g = 0; g < 25; ++g)
        guessers.emplace_back([&, g] {
            Client client(shop.server->port());
            const int status = client.log_in("Pat", "wrong password " + std::to_string(g)).status;
            checked += status == 401 ? 1 : 0;
            slowed += status == 429 ? 1 : 0;
        });
    for (auto& guesser : guessers) guesser.join();
    EXPECT_EQ(checked + slowed, 25);
    // Five are free, then one each after 1, 2, 4 … s.
    const double seconds = std::chrono::duration<double>(Clock::now() - start).count();
    EXPECT_LE(checked, 5 + std::log2(1 + seconds) + 1) << "no more than one after the other";
}

TEST(Security, AnUnknownNameTakesAsLongAsAKnownOne) {
    store::TestFolder folder;
    store::start_sodium();
    store::Database database(store::database_file(folder.path()));
    store::People people(database, {2, 16u << 20});
    ASSERT_TRUE(people.make_owner("Pat", good_password));
    // Time of this thread on the processor, in turns, the least of several: others on the machine do not
    // count.
    const auto spent_ms = [&](const std::string& name) {
        const auto now = [] {
            timespec time{};
            ::clock_gettime(CLOCK_THREAD_CPUTIME_ID, &time);
            return 1e3 * static_cast<double>(time.tv_sec) + 1e-6 * static_cast<double>(time.tv_nsec);
        };
        const double start = now();
        EXPECT_FALSE(people.check(name, "not the password"));
        return now() - start;
    };
    double known = 1e9, unknown = 1e9;
    for (int i = 0; i < 7; ++i) {
        known = std::min(known, spent_ms("Pat"));
        unknown = std::min(unknown, spent_ms("Nobody"));
    }
    EXPECT_GT(known, 2) << "the check must cost something to compare";
    EXPECT_GT(unknown, 0.6 * known);
    EXPECT_LT(unknown, 1.7 * known);
}

TEST(Security, PasswordsAreKeptAsArgon2idAndTokensAsDigests) {
    TestShop shop;
    std::string hash, kept;
    shop.bench->database.read([&](store::Sql& sql) {
        sql << "select password_hash from person", soci::into(hash);
        sql << "select token_hash from login", soci::into(kept);
    });
    EXPECT_TRUE(hash.starts_with("$argon2id$v=19$")) << hash;
    EXPECT_EQ(kept, store::token_hash(shop.pat->cookie));
    EXPECT_NE(kept, shop.pat->cookie);
    // What a password costs outside the tests: OWASP's cheat sheet on password storage asks for at least 19
    // MiB and 2 passes (from memory).
    const store::PasswordCost usual;
    EXPECT_GE(usual.memory_bytes, 19u << 20);
    EXPECT_GE(usual.passes, 2u);
}

TEST(Security, WordsADrawingDoesNotTakeAreNotKeptApart) {
    const DrawingQuery query{"A", "intake", "1I", "anything", LengthUnit::mm};
    EXPECT_EQ(only_taken("plan", query).key(), DrawingQuery{}.key());
    EXPECT_EQ(only_taken("end", query).setup, "A");
    EXPECT_EQ(only_taken("section", query).valve, "1I");
    EXPECT_EQ(only_taken("section", query).what, "");
    EXPECT_THROW(only_taken("nothing", query), HttpError);
}

TEST(Security, CookiesAreSecureOverTlsAndBehindAProxy) {
    TestShop shop;
    const std::string token(64, 'b');
    for (const bool secure : {false, true}) {
        Access access(shop.bench->people, {true, secure, false});
        access.serve_on(8137);
        const std::string cookie = access.cookie(token);
        EXPECT_EQ(cookie.find("; Secure") != std::string::npos, secure);
        EXPECT_EQ(cookie.starts_with("__Host-"), secure) << cookie;
        EXPECT_NE(cookie.find("; HttpOnly; SameSite=Strict"), std::string::npos);
    }
    Request request;
    request.address = "127.0.0.1";
    request.headers = {{"x-forwarded-for", "203.0.113.9"},
                       {"X-Forwarded-For", "203.0.113.7, 203.0.113.8"},
                       {"X-Forwarded-For", "203.0.113.9, 198.51.100.7"}};
    EXPECT_EQ(Access(shop.bench->people, {true, true, false}).address_of(request), "127.0.0.1")
        << "without a proxy anybody could write that header";
    EXPECT_EQ(Access(shop.bench->people, {true, true, true}).address_of(request), "198.51.100.7")
        << "the address the proxy saw, not one the asker wrote before it, in that line or another";
}

}  // namespace
}  // namespace seatwright::server
