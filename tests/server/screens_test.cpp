// Change of person at the machine: an enrolled screen, a name and a PIN.
#include <gtest/gtest.h>

#include "client.hpp"
#include "seatwright/store/names.hpp"

namespace seatwright::server {
namespace {

const std::string pin_path = "/api/session/pin";

Answered set_pin(Client& who, const std::string& pin, const std::string& password = good_password) {
    return who.send("PUT", pin_path, Json{{"password", password}, {"pin", pin}}.dump());
}

// A shop with a machinist Sam and a screen at the mill.
struct Mill {
    TestShop shop;
    std::unique_ptr<Client> sam = shop.person("Sam", "machinist");
    Client screen{shop.server->port()};

    Mill() {
        const auto enrolled = shop.pat->post("/api/screens", {{"name", "mill 2"}});
        EXPECT_EQ(enrolled.status, 204) << enrolled.text;
        screen.take_screen(enrolled);
        EXPECT_EQ(set_pin(*sam, "2580").status, 204);
        EXPECT_EQ(set_pin(*shop.pat, "159357").status, 204);
    }
    Answered by_pin(Client& at, const std::string& name, const std::string& pin) {
        const auto answer = at.post(pin_path, {{"name", name}, {"pin", pin}});
        if (answer.status == 200) at.take_session(answer);
        return answer;
    }
};

TEST(Screens, ANameAndAPinDoAtAnEnrolledScreenAndNowhereElse) {
    Mill mill;
    const Json before = mill.screen.get("/api/session").json();
    EXPECT_EQ(before["screen"], (Json{{"name", "mill 2"}, {"people", {"Pat", "Sam"}}}));
    const auto in = mill.by_pin(mill.screen, "Sam", "2580");
    ASSERT_EQ(in.status, 200) << in.text;
    EXPECT_EQ(in.json()["by_pin"], true);
    EXPECT_EQ(in.json()["person"]["name"], "Sam");
    const long long job = mill.shop.job();
    EXPECT_EQ(mill.screen
                  .post(path_of(job, "/entries"), {{"client_key", "key-0001"},
                                                   {"kind", "touch"},
                                                   {"head", "7"},
                                                   {"valve", "1I"},
                                                   {"units", "mm"},
                                                   {"values", {{"x", 1}, {"y", 2}}}})
                  .status,
              201);
    Client elsewhere(mill.shop.server->port());
    EXPECT_EQ(elsewhere.get("/api/session").json()["screen"], nullptr) << "names are told there alone";
    const auto refused = mill.by_pin(elsewhere, "Sam", "2580");
    EXPECT_EQ(refused.status, 403);
    EXPECT_NE(refused.error().find("a lead has enrolled"), std::string::npos) << refused.text;
    elsewhere.screen = std::string(64, 'a');
    EXPECT_EQ(mill.by_pin(elsewhere, "Sam", "2580").status, 403);
}

// One request leaves; the screen stays enrolled for the next.
TEST(Screens, OneTapLeaves) {
    Mill mill;
    ASSERT_EQ(mill.by_pin(mill.screen, "Sam", "2580").status, 200);
    EXPECT_EQ(mill.screen.send("DELETE", "/api/session").status, 204);
    EXPECT_EQ(mill.screen.get("/api/jobs").status, 401);
    EXPECT_EQ(mill.by_pin(mill.screen, "Pat", "159357").status, 200);
}

TEST(Screens, APinGivesAMachinistsRightsNeverALeads) {
    Mill mill;
    ASSERT_EQ(mill.by_pin(mill.screen, "Pat", "159357").status, 200);
    EXPECT_EQ(mill.screen.get("/api/session").json()["person"]["role"], "machinist");
    // Every route that a lead's role opens.
    int asked = 0;
    for (const auto& route : mill.shop.server->router().routes()) {
        if (route.needs != store::Role::lead) continue;
        std::string path = route.path;
        for (auto at = path.find('{'); at != std::string::npos; at = path.find('{'))
            path.replace(at, path.find('}') - at + 1, "1");
        const auto answer = mill.screen.send(route.method, path, route.method == "GET" ? "" : "{}");
        EXPECT_EQ(answer.status, 403) << route.method << " " << path;
        EXPECT_NE(answer.error().find("machinist"), std::string::npos) << answer.text;
        ++asked;
    }
    EXPECT_GT(asked, 10);
    const auto ida = mill.shop.person("Ida", "reader");
    ASSERT_EQ(set_pin(*ida, "8520").status, 204);
    ASSERT_EQ(mill.by_pin(mill.screen, "Ida", "8520").status, 200);
    EXPECT_EQ(mill.screen.get("/api/session").json()["person"]["role"], "reader");
}

TEST(Screens, AfterFiveWrongOnesThePasswordIsNeededOnce) {
    Mill mill;
    for (int n = 1; n <= 5; ++n) {
        const auto wrong = mill.by_pin(mill.screen, "Sam", "9999");
        EXPECT_EQ(wrong.status, 401) << n;
        EXPECT_EQ(wrong.json().contains("password_needed"), n == 5) << wrong.text;
    }
    mill.shop.bench->throttle.passed({store::one_name("Sam"), "127.0.0.1", true});
    const auto right = mill.by_pin(mill.screen, "Sam", "2580");
    EXPECT_EQ(right.status, 401) << "the right one too";
    EXPECT_EQ(right.json()["password_needed"], true);
    EXPECT_EQ(mill.by_pin(mill.screen, "Pat", "159357").status, 200) << "of that person alone";
    mill.shop.bench->throttle.passed({store::one_name("Sam"), "127.0.0.1", true});
    ASSERT_EQ(mill.screen.log_in("Sam").status, 200);
    EXPECT_EQ(mill.by_pin(mill.screen, "Sam", "2580").status, 200);
}

TEST(Screens, RefuseWhatIsNoPinAndWhatIsTriedFirst) {
    Mill mill;
    for (const std::string pin : {"", "123", "1234567", "12a4", " 2580", "1234", "4321", "0000", "777777"})
        EXPECT_EQ(set_pin(*mill.sam, pin).status, 400) << pin;
    EXPECT_EQ(set_pin(*mill.sam, "2581", "not the password").status, 403);
    EXPECT_EQ(mill.by_pin(mill.screen, "Sam", "2580").status, 200) << "the old one stands";
    EXPECT_EQ(mill.sam->post("/api/screens", {{"name", "x"}}).status, 403) << "a lead enrolls";
}

TEST(Screens, EndWhenALeadSaysSoAndWhenThePersonIsPutOut) {
    Mill mill;
    ASSERT_EQ(mill.by_pin(mill.screen, "Sam", "2580").status, 200);
    const Json people = mill.shop.pat->get("/api/people").json()["people"];
    for (const auto& person : people)
        if (person["name"] == "Sam")
            mill.shop.pat->send("PATCH", "/api/people/" + person["id"].dump(), R"({"active":false})");
    EXPECT_EQ(mill.screen.get("/api/jobs").status, 401);
    EXPECT_EQ(mill.by_pin(mill.screen, "Sam", "2580").status, 401);
    EXPECT_EQ(mill.screen.get("/api/session").json()["screen"]["people"], Json::array({"Pat"}));
    ASSERT_EQ(mill.shop.pat->send("DELETE", "/api/screens/1").status, 204);
    EXPECT_EQ(mill.by_pin(mill.screen, "Pat", "159357").status, 403);
    EXPECT_EQ(mill.screen.get("/api/session").json()["screen"], nullptr);
}

}  // namespace
}  // namespace seatwright::server
