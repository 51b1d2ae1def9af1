// Who gets in, and what the server says to those who do not.
#include <gtest/gtest.h>

#include "client.hpp"

namespace seatwright::server {
namespace {

TEST(Session, TheFirstStartMakesTheOwnerOnce) {
    TestShop shop;
    const auto session = shop.pat->get("/api/session").json();
    EXPECT_FALSE(session["first_start"]);
    EXPECT_EQ(session["person"]["name"], "Pat");
    EXPECT_EQ(session["person"]["role"], "lead");
    EXPECT_EQ(session["listening"], "loopback");
    const auto second = shop.pat->post("/api/owner", {{"name", "Eve"}, {"password", good_password}});
    EXPECT_EQ(second.status, 409);
    EXPECT_FALSE(second.error().empty());
}

TEST(Session, TheCookieIsOutOfReachOfScriptsAndOtherSites) {
    TestShop shop;
    Client client(shop.server->port());
    const auto answer = client.log_in("Pat");
    ASSERT_EQ(answer.status, 200);
    const std::string cookie = answer.headers.find("Set-Cookie")->second;
    for (const std::string word : {"HttpOnly", "SameSite=Strict", "Path=/"})
        EXPECT_NE(cookie.find(word), std::string::npos) << cookie;
    EXPECT_EQ(client.send("DELETE", "/api/session").status, 204);
    EXPECT_EQ(client.get("/api/jobs").status, 401);
}

TEST(Session, WithoutLoginEverythingButTheLoginIsRefusedWithASentence) {
    TestShop shop;
    Client nobody(shop.server->port());
    EXPECT_EQ(nobody.get("/api/session").status, 200);
    int asked = 0;
    for (const auto& route : shop.server->router().routes()) {
        if (!route.needs) continue;
        std::string path = route.path;
        for (const std::string part :
             {"{id}", "{version}", "{person}", "{survey}", "{casting}", "{offer}", "{entry}", "{place}",
              "{sending}", "{feed}", "{screen}", "{customer}", "{issue}", "{scan}"})
            if (const auto at = path.find(part); at != std::string::npos) path.replace(at, part.size(), "1");
        for (const std::string part : {"{stage}", "{file}", "{task}", "{login}", "{name}"})
            if (const auto at = path.find(part); at != std::string::npos) path.replace(at, part.size(), "x");
        const auto answer = nobody.send(route.method, path, route.method == "GET" ? "" : "{}");
        EXPECT_EQ(answer.status, 401) << route.method << " " << path;
        EXPECT_FALSE(answer.error().empty());
        ++asked;
    }
    EXPECT_GT(asked, 30);
}

TEST(Session, AChangeNeedsTheTokenAndTheSameOrigin) {
    TestShop shop;
    const std::string body = Json{{"from", "example"}, {"example", "wedge"}}.dump();
    EXPECT_EQ(shop.pat->send("POST", "/api/jobs", body, {{"X-CSRF-Token", "guess"}}).status, 403);
    EXPECT_EQ(shop.pat->send("POST", "/api/jobs", body, {{"Origin", "https://elsewhere.example"}}).status,
              403);
    EXPECT_EQ(shop.pat->send("POST", "/api/jobs", body, {{"Sec-Fetch-Site", "cross-site"}}).status, 403);
    EXPECT_EQ(shop.pat->send("POST", "/api/jobs", body, {{"Content-Type", "text/plain"}}).status, 400);
    const std::string own = "http://127.0.0.1:" + std::to_string(shop.server->port());
    EXPECT_EQ(shop.pat->send("POST", "/api/jobs", body, {{"Origin", own}}).status, 201);
    EXPECT_EQ(shop.pat->send("GET", "/api/jobs", "", {{"Host", "rebound.example"}}).status, 403)
        << "DNS rebinding";
}

TEST(Session, GuessingIsSlowedDown) {
    TestShop shop;
    Client guesser(shop.server->port());
    int status = 0;
    for (int i = 0; i < 6; ++i) status = guesser.log_in("Pat", "wrong password " + std::to_string(i)).status;
    EXPECT_EQ(status, 429);
    const auto locked = guesser.log_in("Pat");
    EXPECT_EQ(locked.status, 429) << "also with the right password, until the wait is over";
    EXPECT_NE(locked.headers.find("Retry-After"), locked.headers.end());
}

TEST(People, RolesDecide) {
    TestShop shop;
    const auto reader = shop.person("Ray", "reader"), machinist = shop.person("Mia", "machinist");
    const long long job = shop.job();
    ASSERT_GT(job, 0);
    EXPECT_EQ(reader->get(path_of(job)).status, 200);
    EXPECT_EQ(reader->post("/api/jobs", {{"from", "example"}, {"example", "wedge"}}).status, 403);
    EXPECT_EQ(machinist->get("/api/people").status, 403);
    const auto shelf = machinist->get("/api/shelf").json();
    EXPECT_EQ(
        machinist->send("PUT", "/api/shelf", Json{{"version", 1}, {"text", shelf["text"]}}.dump()).status,
        403);
    const auto version = machinist->get(path_of(job)).json()["version"];
    const auto width = machinist->post(
        path_of(job, "/edits"),
        {{"version", version}, {"edits", {{{"key", "seat.intake.width"}, {"value", 0.065}}}}});
    EXPECT_EQ(width.status, 200) << width.text.substr(0, 300);
    const auto limit =
        machinist->post(path_of(job, "/edits"),
                        {{"version", 2}, {"edits", {{{"key", "seat.intake.runout_max"}, {"value", 0.5}}}}});
    EXPECT_EQ(limit.status, 403);
    EXPECT_NE(limit.error().find("seat.intake.runout_max is a limit"), std::string::npos) << limit.error();
    for (const char* key : {"vacuum_min", "vacuum_loss_max"})
        EXPECT_EQ(machinist
                      ->post(path_of(job, "/edits"),
                             {{"version", 2},
                              {"edits", {{{"key", std::string("seat.exhaust.") + key}, {"value", "1 kPa"}}}}})
                      .status,
                  403)
            << key;
    EXPECT_EQ(shop.pat
                  ->post(path_of(job, "/edits"),
                         {{"version", 2}, {"edits", {{{"key", "seat.intake.runout_max"}, {"value", 0.5}}}}})
                  .status,
              200);
    const auto undone = machinist->post(path_of(job, "/undo"), {{"version", 3}});
    EXPECT_EQ(undone.status, 403) << "undoing a limit changes it too";
}

TEST(People, AChangedPasswordOrADeactivatedPersonIsOutAtOnce) {
    TestShop shop;
    const auto mia = shop.person("Mia", "machinist");
    const auto people = shop.pat->get("/api/people").json()["people"];
    ASSERT_EQ(people.size(), 2u);
    const long long id = people[0]["id"];  // Mia before Pat
    EXPECT_EQ(
        mia->send("PUT", "/api/session/password", Json{{"old", "wrong"}, {"new", "another few words"}}.dump())
            .status,
        403);
    const auto changed = mia->send("PUT", "/api/session/password",
                                   Json{{"old", good_password}, {"new", "another few words"}}.dump());
    ASSERT_EQ(changed.status, 200);
    EXPECT_EQ(mia->get("/api/jobs").status, 401);
    mia->take_session(changed);
    EXPECT_EQ(mia->get("/api/jobs").status, 200);
    EXPECT_EQ(shop.pat->send("PATCH", "/api/people/" + std::to_string(id), R"({"active": false})").status,
              200);
    EXPECT_EQ(mia->get("/api/jobs").status, 401);
}

TEST(Headers, EveryAnswerCarriesTheStrictPolicy) {
    TestShop shop;
    for (const std::string path : {"/", "/api/session", "/api/nothing", "/job/3/shape"}) {
        const auto answer = shop.pat->get(path);
        const auto policy = answer.headers.find("Content-Security-Policy");
        ASSERT_NE(policy, answer.headers.end()) << path;
        EXPECT_EQ(policy->second.find("unsafe"), std::string::npos);
        EXPECT_NE(policy->second.find("default-src 'self'"), std::string::npos);
        EXPECT_EQ(answer.headers.find("X-Content-Type-Options")->second, "nosniff");
        EXPECT_EQ(answer.headers.count("Cache-Control"), 1u) << path;
    }
    EXPECT_EQ(shop.pat->get("/api/nothing").status, 404);
    EXPECT_FALSE(shop.pat->get("/api/nothing").error().empty());
    EXPECT_EQ(shop.pat->post("/api/nothing", {{"a", 1}}).status, 404);
}

TEST(Headers, ABodyBeyondItsLimitIsRefusedAndTheConnectionGoesOn) {
    TestShop shop;
    const auto large =
        shop.pat->send("POST", "/api/preview", "{\"a\":\"" + std::string(2u << 20, 'x') + "\"}");
    EXPECT_EQ(large.status, 413);
    EXPECT_FALSE(large.error().empty());
    EXPECT_EQ(shop.pat->get("/api/session").status, 200) << "the same connection";
    Client nobody(shop.server->port());
    EXPECT_EQ(nobody.send("POST", "/api/jobs", std::string(1u << 20, 'x')).status, 401);
    EXPECT_EQ(nobody.get("/api/session").status, 200) << "the unread body did not become a request";
    EXPECT_EQ(shop.pat->send("POST", "/api/preview", "not JSON").status, 400);
}

}  // namespace
}  // namespace seatwright::server
