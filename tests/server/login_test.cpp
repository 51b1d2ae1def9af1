// How often a password may be guessed, and whom that keeps waiting; open logins, the record of logins, the
// second factor.
#include <gtest/gtest.h>

#include "client.hpp"
#include "seatwright/store/totp.hpp"
#include "server/http/throttle.hpp"

namespace seatwright::server {
namespace {

TEST(Throttle, WaitsGrowAndAreForgottenAfterASuccess) {
    Throttle throttle;
    double now = 1000, last = 0;
    for (int i = 0; i < 4; ++i) throttle.missed({"a", "address"}, now);
    EXPECT_LE(throttle.wait({"a", "address"}, now), 0);
    for (int i = 0; i < 30; ++i) {
        throttle.missed({"a", "another " + std::to_string(i)}, now);
        const double wait = throttle.wait({"a", ""}, now);
        EXPECT_GE(wait, last);
        last = wait;
    }
    EXPECT_EQ(last, 900) << "a quarter of an hour at most";
    EXPECT_LE(throttle.wait({"b", "elsewhere"}, now), 0);
    throttle.passed({"a", "elsewhere"});
    EXPECT_LE(throttle.wait({"a", "elsewhere"}, now), 0);
}

TEST(Throttle, NobodyLocksOutAllWhoShareAnAddress) {
    Throttle throttle;
    for (int i = 0; i < 1000; ++i) throttle.missed({"guess " + std::to_string(i), "shop"}, 1000);
    EXPECT_LE(throttle.wait({"mia", "shop", true}, 1000), 0)
        << "who has come in from there before waits for nobody";
    const double somebody_new = throttle.wait({"new", "shop"}, 1000);
    EXPECT_GT(somebody_new, 0);
    EXPECT_LE(somebody_new, 30);
    for (int i = 0; i < 10; ++i) throttle.missed({"mia", "shop", true}, 1000);
    EXPECT_GT(throttle.wait({"mia", "shop", true}, 1000), 0) << "guesses under the own name there count";
    for (int i = 0; i < 10; ++i) throttle.missed({"pat", "elsewhere"}, 1000);
    EXPECT_LE(throttle.wait({"pat", "shop", true}, 1000), 0) << "guessed at from elsewhere";
    EXPECT_GT(throttle.wait({"pat", "a third place"}, 1000), 0);
}

TEST(Session, WhoHasComeInFromAnAddressComesInAgainWhateverOthersGuessThere) {
    TestShop shop;
    shop.person("Mia", "machinist");
    Client guesser(shop.server->port());
    int status = 0;
    for (int i = 0; i < 60 && status != 429; ++i)
        status = guesser.log_in("nobody " + std::to_string(i), "wrong password").status;
    ASSERT_EQ(status, 429) << "the address has to wait";
    EXPECT_EQ(Client(shop.server->port()).log_in("Mia").status, 200);
}

TEST(Session, OpenLoginsAreListedAndEnded) {
    TestShop shop;
    Client tablet(shop.server->port());
    ASSERT_EQ(tablet.log_in("Pat").status, 200);
    const Json logins = shop.pat->get("/api/logins").json()["logins"];
    ASSERT_EQ(logins.size(), 2u);
    std::string other;
    int own = 0;
    for (const auto& login : logins) {
        EXPECT_EQ(login["address"], "127.0.0.1");
        if (login["this_one"] == true)
            ++own;
        else
            other = login["id"];
    }
    EXPECT_EQ(own, 1);
    const auto mia = shop.person("Mia", "machinist");
    EXPECT_EQ(mia->get("/api/logins").json()["logins"].size(), 1u) << "one's own";
    EXPECT_EQ(mia->send("DELETE", "/api/logins/" + other).status, 404) << "not another's";
    EXPECT_EQ(shop.pat->send("DELETE", "/api/logins/" + other).status, 204);
    EXPECT_EQ(tablet.get("/api/jobs").status, 401);
    EXPECT_EQ(shop.pat->get("/api/jobs").status, 200);
}

TEST(Session, LoginsAndRefusalsAreOnRecordWithoutSecrets) {
    TestShop shop;
    Client client(shop.server->port());
    client.log_in("Pat", "wrong password of Pat");
    client.log_in("a password in the name field", "x");
    client.log_in("Pat");
    const auto answer = shop.pat->get("/api/login-lines");
    const Json lines = answer.json()["lines"];
    ASSERT_GE(lines.size(), 3u);
    EXPECT_EQ(lines[0]["what"], "logged in");
    EXPECT_EQ(lines[0]["name"], "Pat");
    EXPECT_EQ(lines[1]["what"], "refused: wrong password");
    EXPECT_EQ(lines[1]["name"], "") << "of nobody here";
    EXPECT_EQ(lines[2]["name"], "Pat");
    for (const std::string secret :
         {"wrong password of Pat", "a password in the name field", good_password.c_str()})
        EXPECT_EQ(answer.text.find(secret), std::string::npos) << secret;
    for (int i = 0; i < 8; ++i) client.log_in("Pat", "wrong");
    EXPECT_NE(shop.pat->get("/api/login-lines").text.find("must wait after too many wrong ones"),
              std::string::npos);
    EXPECT_EQ(shop.person("Mia", "machinist")->get("/api/login-lines").status, 403);
}

TEST(Session, ALeadsSecondFactorIsAskedFor) {
    TestShop shop;
    const auto ask = [&](const std::string& method, const Json& body) {
        return shop.pat->send(method, "/api/session/second-factor", body.dump());
    };
    EXPECT_EQ(ask("POST", {{"password", "wrong password"}}).status, 403);
    const auto begun = ask("POST", {{"password", good_password}});
    ASSERT_EQ(begun.status, 201) << begun.text;
    const std::string secret = store::bytes_of_base32(begun.json()["secret"].get<std::string>());
    Client client(shop.server->port());
    EXPECT_EQ(client.log_in("Pat").status, 200) << "not before a code has shown that the device is set";
    const auto code = [&](int ahead) {
        return store::totp(secret, static_cast<std::uint64_t>(store::now_ms() / 30'000 + ahead));
    };
    EXPECT_EQ(ask("PUT", {{"code", "000000"}}).status, 400);
    const auto confirmed = ask("PUT", {{"code", code(0)}});
    ASSERT_EQ(confirmed.status, 200) << confirmed.text;
    const Json codes = confirmed.json()["codes"];
    ASSERT_EQ(codes.size(), 10u);
    EXPECT_EQ(shop.pat->get("/api/logins").json()["second_factor"], true);
    const auto with = [&](const std::string& given) {
        return client.post("/api/session", {{"name", "Pat"}, {"password", good_password}, {"code", given}});
    };
    const auto asked = client.log_in("Pat");
    EXPECT_EQ(asked.status, 401);
    EXPECT_EQ(asked.json()["second_factor"], true);
    EXPECT_EQ(with(code(1)).status, 200);
    EXPECT_EQ(with(code(1)).status, 401) << "a code is taken once";
    EXPECT_EQ(with(codes[3].get<std::string>()).status, 200);
    EXPECT_EQ(with(codes[3].get<std::string>()).status, 401) << "so is one written down";
    EXPECT_EQ(
        client.post("/api/session", {{"name", "Pat"}, {"password", "wrong"}, {"code", codes[4]}}).status, 401)
        << "with the password, not instead of it";
    EXPECT_EQ(with(codes[4].get<std::string>()).status, 200) << "and was not used up by that";
    EXPECT_EQ(ask("DELETE", {{"password", good_password}}).status, 204);
    EXPECT_EQ(client.log_in("Pat").status, 200);
    EXPECT_EQ(shop.person("Mia", "machinist")
                  ->send("POST", "/api/session/second-factor", Json{{"password", good_password}}.dump())
                  .status,
              403);
}

// A password that is known must not buy new guesses at the code behind it.
TEST(Session, CodesAreNotGuessedBetweenRightPasswords) {
    TestShop shop;
    const auto ask = [&](const std::string& method, const Json& body) {
        return shop.pat->send(method, "/api/session/second-factor", body.dump());
    };
    const std::string secret = store::bytes_of_base32(
        ask("POST", {{"password", good_password}}).json()["secret"].get<std::string>());
    const auto step = static_cast<std::uint64_t>(store::now_ms() / 30'000);
    ASSERT_EQ(ask("PUT", {{"code", store::totp(secret, step)}}).status, 200);
    Client client(shop.server->port());
    int refused = 0;
    for (int guess = 0; guess < 12 && refused == 0; ++guess) {
        const auto owed = client.log_in("Pat");
        EXPECT_TRUE(owed.status == 401 || owed.status == 429) << owed.text;
        const auto wrong =
            client.post("/api/session", {{"name", "Pat"}, {"password", good_password}, {"code", "12345x"}});
        if (wrong.status == 429) refused = guess;
    }
    EXPECT_GT(refused, 3) << "somebody may mistype";
    EXPECT_LE(refused, 6);
}

}  // namespace
}  // namespace seatwright::server
