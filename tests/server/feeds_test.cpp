// Feeds through the interface: an agent, an adapter and gauges of the tests' own on loopback and on
// pseudo-terminals; what stands, what is offered, what is refused, and what happens when they go and come.
#include <gtest/gtest.h>

#include <arpa/inet.h>
#include <netinet/in.h>
#include <sys/socket.h>
#include <unistd.h>

#include <atomic>
#include <chrono>
#include <thread>

#include "client.hpp"
#include "live/agent.hpp"
#include "place/pty.hpp"

namespace seatwright::server {
namespace {

using namespace std::chrono_literals;

// Asked until the answer is right, for at most so long.
template <class Ask>
Json until(const Ask& ask, const std::function<bool(const Json&)>& right,
           std::chrono::seconds patience = 20s) {
    const auto end = std::chrono::steady_clock::now() + patience;
    Json now = ask();
    while (!right(now) && std::chrono::steady_clock::now() < end) {
        std::this_thread::sleep_for(20ms);
        now = ask();
    }
    EXPECT_TRUE(right(now)) << now.dump(1);
    return now;
}

double value_of(const Json& list, const std::string& what) {
    for (const auto& one : list)
        if (one["what"] == what) return one.contains("value_mm") ? one["value_mm"] : one["value_deg"];
    return std::nan("");
}

// The tests' agent on http, with streams in parts.
class AgentServer {
  public:
    explicit AgentServer(int port = 0) {
        http_.Get("/probe",
                  [this](const auto&, auto& answer) { give(answer, [this] { return agent.devices(); }); });
        http_.Get("/current",
                  [this](const auto&, auto& answer) { give(answer, [this] { return agent.current(); }); });
        http_.Get("/moved/probe",
                  [](const auto&, auto& answer) { answer.set_redirect("http://127.0.0.1:1/probe"); });
        http_.Get("/sample", [this](const auto& request, auto& answer) {
            auto next = std::make_shared<std::uint64_t>(std::stoull(request.get_param_value("from")));
            answer.set_chunked_content_provider(
                "multipart/x-mixed-replace;boundary=edge",
                [this, next](std::size_t, httplib::DataSink& sink) {
                    std::string document;
                    {
                        const std::lock_guard<std::mutex> lock(mutex);
                        document = agent.sample(*next, 1000);
                        if (document.find("MTConnectError") == std::string::npos) *next = agent.next();
                    }
                    if (silent) return !over_.load();
                    const std::string part =
                        fmt::format("--edge\r\nContent-type: text/xml\r\nContent-length: {}\r\n\r\n{}\r\n",
                                    document.size(), document);
                    sink.write(part.data(), part.size());
                    std::this_thread::sleep_for(30ms);
                    return !over_.load();
                });
        });
        port_ = port == 0 ? http_.bind_to_any_port("127.0.0.1") : port;
        if (port != 0) http_.bind_to_port("127.0.0.1", port);
        thread_ = std::thread([this] { http_.listen_after_bind(); });
    }
    ~AgentServer() {
        over_ = true;
        http_.stop();
        thread_.join();
    }
    int port() const { return port_; }
    void say(const std::string& id, const std::string& value) {
        const std::lock_guard<std::mutex> lock(mutex);
        agent.say(id, value, store::iso_time(store::now_ms()));
    }
    live::Agent agent;
    std::mutex mutex;
    std::atomic<bool> silent = false;

  private:
    template <class Make>
    void give(httplib::Response& answer, const Make& make) {
        const std::lock_guard<std::mutex> lock(mutex);
        answer.set_content(make(), "text/xml");
    }
    httplib::Server http_;
    std::atomic<bool> over_ = false;
    int port_ = 0;
    std::thread thread_;
};

// A listener on loopback that sends what it is told to whoever connects.
class Talker {
  public:
    Talker() : listening_(::socket(AF_INET, SOCK_STREAM, 0)) {
        sockaddr_in at{};
        at.sin_family = AF_INET;
        at.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
        socklen_t size = sizeof(at);
        if (::bind(listening_, reinterpret_cast<sockaddr*>(&at), size) != 0 || ::listen(listening_, 4) != 0 ||
            ::getsockname(listening_, reinterpret_cast<sockaddr*>(&at), &size) != 0)
            throw std::runtime_error("no port for the test");
        port_ = ntohs(at.sin_port);
        thread_ = std::thread([this] { serve(); });
    }
    ~Talker() {
        over_ = true;
        ::shutdown(listening_, SHUT_RDWR);
        thread_.join();
        ::close(listening_);
    }
    int port() const { return port_; }
    void say(const std::string& line) {
        const std::lock_guard<std::mutex> lock(mutex_);
        if (to_ >= 0) ::send(to_, line.data(), line.size(), MSG_NOSIGNAL);
    }
    bool connected() {
        const std::lock_guard<std::mutex> lock(mutex_);
        return to_ >= 0;
    }
    std::string heard() {
        const std::lock_guard<std::mutex> lock(mutex_);
        return heard_;
    }

  private:
    void serve() {
        while (!over_) {
            const int to = ::accept(listening_, nullptr, nullptr);
            if (to < 0) continue;
            {
                const std::lock_guard<std::mutex> lock(mutex_);
                to_ = to;
            }
            char buffer[256];
            timeval wait{0, 50'000};
            ::setsockopt(to, SOL_SOCKET, SO_RCVTIMEO, &wait, sizeof(wait));
            while (!over_) {
                const ssize_t got = ::recv(to, buffer, sizeof(buffer), 0);
                if (got == 0) break;
                const std::lock_guard<std::mutex> lock(mutex_);
                if (got > 0) heard_.append(buffer, static_cast<std::size_t>(got));
            }
            const std::lock_guard<std::mutex> lock(mutex_);
            ::close(to);
            to_ = -1;
        }
    }
    int listening_, port_ = 0, to_ = -1;
    std::atomic<bool> over_ = false;
    std::mutex mutex_;
    std::string heard_;
    std::thread thread_;
};

struct Fed {
    TestShop shop;
    long long feed = 0;

    void set_up(Json settings, const std::string& name = "mill readout") {
        settings["name"] = name;
        const auto made = shop.pat->post("/api/feeds", settings);
        EXPECT_EQ(made.status, 201) << made.text;
        feed = made.json().value("id", 0LL);
    }
    std::string path(const std::string& rest) const { return "/api/feeds/" + std::to_string(feed) + rest; }
    Json now() { return shop.pat->get(path("/now")).json(); }
    Json until_now(const std::function<bool(const Json&)>& right) {
        return until([this] { return now(); }, right);
    }
};

Json xy(const std::string& kind, int port) {
    return {{"kind", kind},
            {"host", "127.0.0.1"},
            {"port", port},
            {"dwell_ms", 150},
            {"stale_ms", 1000},
            {"channels",
             {{{"what", "x"}, {"key", "xpos"}, {"low", -300}, {"high", 300}},
              {{"what", "y"}, {"key", "ypos"}, {"sign", -1}, {"low", -200}, {"high", 200}}}}};
}

TEST(Feeds, AnAgentsPositionsAreOfferedWhenTheyStandStill) {
    AgentServer mill;
    Fed fed;
    fed.set_up(xy("agent", mill.port()));
    fed.until_now([](const Json& now) { return now["refused"].size() == 2; });  // UNAVAILABLE so far
    EXPECT_NE(fed.shop.pat->post(fed.path("/take"), Json::object()).error().find("UNAVAILABLE"),
              std::string::npos);
    mill.say("xpos", "12.3456");
    mill.say("ypos", "-20.5");
    const Json offered = fed.until_now([](const Json& now) { return !now["offered"].is_null(); })["offered"];
    EXPECT_EQ(value_of(offered["readings"], "x"), 12.3456);
    EXPECT_EQ(value_of(offered["readings"], "y"), 20.5);
    EXPECT_EQ(offered["by"], "stood still");
    EXPECT_EQ(offered["source"], "mill readout");
    EXPECT_EQ(offered["readings"][0]["raw"], "12.3456");
    EXPECT_FALSE(offered["readings"][0]["stated"].is_null());
    mill.say("xpos", "UNAVAILABLE");
    fed.until_now([](const Json& now) { return now["refused"].size() == 1; });
    EXPECT_EQ(fed.shop.pat->post(fed.path("/take"), Json::object()).status, 422);
    mill.say("xpos", "400");
    fed.until_now([](const Json& now) {
        return now["refused"].size() == 1 &&
               now["refused"][0].get<std::string>().find("beyond") != std::string::npos;
    });
    const auto says = [](const std::string& words, const std::string& part) {
        EXPECT_NE(words.find(part), std::string::npos) << words << " does not say " << part;
    };
    // In the unit of the page that asks.
    says(fed.now()["refused"][0], "400.0000 mm");
    says(fed.shop.pat->get(fed.path("/now?units=in")).json()["refused"][0],
         "15.74803 in: that is beyond what can be reached (-11.8110 in to 11.8110 in)");
    says(fed.shop.pat->post(fed.path("/take?units=in"), Json::object()).error(), "15.74803 in");
    // The agent falls silent: what it said last is no reading.
    mill.say("xpos", "1");
    fed.until_now([](const Json& now) { return now["values"].size() == 2; });
    mill.silent = true;
    fed.until_now([](const Json& now) { return now["stale"] == true; });
    EXPECT_EQ(fed.shop.pat->post(fed.path("/take"), Json::object()).status, 422);
}

TEST(Feeds, AnAgentStartedAnewIsFollowedOn) {
    auto mill = std::make_unique<AgentServer>();
    const int port = mill->port();
    Fed fed;
    fed.set_up(xy("agent", port));
    mill->say("xpos", "1");
    mill->say("ypos", "2");
    fed.until_now([](const Json& now) { return now["values"].size() == 2; });
    mill.reset();
    fed.until_now([](const Json& now) { return now["values"].empty() && !now["trouble"].is_null(); });
    AgentServer anew(port);
    anew.agent = live::Agent(2000);
    anew.say("xpos", "7");
    anew.say("ypos", "8");
    const Json now = fed.until_now([](const Json& n) { return value_of(n["values"], "x") == 7; });
    EXPECT_EQ(value_of(now["values"], "y"), -8);
}

// What fell out of the agent's memory is said, and what stands is asked anew; times that lie are said and
// decide nothing.
TEST(Feeds, AnAgentThatForgetsOrLiesAboutItsTimesSaysSo) {
    AgentServer mill;
    Fed fed;
    fed.set_up(xy("agent", mill.port()));
    mill.say("xpos", "1");
    mill.say("ypos", "2");
    fed.until_now([](const Json& now) { return now["values"].size() == 2; });
    {
        // More than its memory holds, between two askings.
        const std::lock_guard<std::mutex> lock(mill.mutex);
        for (int n = 0; n < 500; ++n)
            mill.agent.say("xpos", fmt::format("{}", n / 10.0), store::iso_time(store::now_ms()));
    }
    const Json caught = fed.until_now([](const Json& now) { return value_of(now["values"], "x") == 49.9; });
    EXPECT_NE(caught.dump().find("there is a gap"), std::string::npos) << caught.dump(1);
    {
        const std::lock_guard<std::mutex> lock(mill.mutex);
        mill.agent.say("xpos", "7", store::iso_time(store::now_ms() + 3'600'000));
    }
    const Json ahead = fed.until_now([](const Json& now) {
        return now["values"].size() == 2 && now["remark"].is_string() && now["remark"] != "";
    });
    EXPECT_NE(ahead["remark"].get<std::string>().find("not believed"), std::string::npos) << ahead;
    EXPECT_EQ(fed.shop.pat->post(fed.path("/take"), Json::object()).status, 200)
        << "a wrong clock keeps nobody from reading";
}

TEST(Feeds, AThousandUpdatesASecondAndThePageSeesTheNewest) {
    Talker adapter;
    Fed fed;
    fed.set_up(xy("adapter", adapter.port()));
    until([&] { return Json(adapter.connected()); }, [](const Json& yes) { return yes == true; });
    adapter.say("|ypos|5\n");
    constexpr int updates = 3000;
    const auto begin = std::chrono::steady_clock::now();
    double worst = 0;
    for (int n = 0; n < updates; ++n) {
        adapter.say(fmt::format("{}|xpos|{}\n", store::iso_time(store::now_ms()), 100 + n * 0.01));
        if (n % 250 == 249) {
            const double x = value_of(fed.now()["values"], "x");
            if (!std::isnan(x)) worst = std::max(worst, 100 + n * 0.01 - x);
        }
        std::this_thread::sleep_until(begin + std::chrono::milliseconds(n));
    }
    // 0.01 mm each: a page that is 0.3 s behind is 300 updates, 3 mm, behind. Machines of tests are busy.
    EXPECT_LT(worst, 10.0);
    const Json last = fed.until_now([](const Json& now) { return !now["offered"].is_null(); });
    EXPECT_DOUBLE_EQ(value_of(last["offered"]["readings"], "x"), 100 + (updates - 1) * 0.01);
    EXPECT_NE(adapter.heard().find("* PING\n"), std::string::npos);
    EXPECT_EQ(adapter.heard().find_first_not_of("* PING\n"), std::string::npos)
        << "nothing else is ever written";
}

TEST(Feeds, AGaugeOnALineIsAskedOrSendsByItself) {
    place::Pty asked;
    std::atomic<bool> over = false;
    std::thread gauge([&] {
        while (!over)
            if (asked.hear(20).find("R\r") != std::string::npos) asked.say("+  2.1380, MM\r\n");
    });
    Fed fed;
    fed.set_up({{"kind", "line"},
                {"device", asked.name()},
                {"ask", "R"},
                {"dwell_ms", 300},
                {"channels", {{{"what", "depth"}, {"low", 0}, {"high", 25}}}}},
               "depth gauge");
    const Json offered = fed.until_now([](const Json& now) { return !now["offered"].is_null(); })["offered"];
    EXPECT_EQ(value_of(offered["readings"], "depth"), 2.138);
    over = true;
    gauge.join();

    place::Pty button;
    fed.set_up({{"kind", "line"},
                {"device", button.name()},
                {"decides", "each"},
                {"channels", {{{"what", "depth"}, {"unit", "in"}, {"low", 0}, {"high", 25}}}}},
               "other gauge");
    std::this_thread::sleep_for(200ms);
    button.say("+00000.500\r");
    EXPECT_DOUBLE_EQ(value_of(fed.until_now([](const Json& now) {
                         return !now["offered"].is_null();
                     })["offered"]["readings"],
                              "depth"),
                     12.7);
    button.say("+  2.1380, MM\r");
    fed.until_now([](const Json& now) {
        return now["refused"].size() == 1 &&
               now["refused"][0].get<std::string>().find("was set up in in") != std::string::npos;
    });
    button.say("ERR2\r");
    fed.until_now([](const Json& now) { return now["trouble"].is_string(); });
    button.hang_up();
    fed.until_now([](const Json& now) {
        return now["trouble"].is_string() &&
               now["trouble"].get<std::string>().find("went away") != std::string::npos;
    });
}

TEST(Feeds, WhatASourceSendsIsShownBeforeItIsSetUp) {
    AgentServer mill;
    mill.say("xpos", "12.5");
    TestShop shop;
    const Json seen =
        shop.pat->post("/api/feeds/try", {{"kind", "agent"}, {"host", "127.0.0.1"}, {"port", mill.port()}})
            .json();
    ASSERT_EQ(seen["observed"].size(), 5u) << seen;
    bool found = false;
    for (const auto& one : seen["observed"])
        if (one["key"] == "xpos") {
            found = true;
            EXPECT_EQ(one["raw"], "12.5");
            EXPECT_EQ(one["is"], "mill Linear X POSITION ACTUAL MILLIMETER");
        }
    EXPECT_TRUE(found);
    const Json moved =
        shop.pat
            ->post("/api/feeds/try",
                   {{"kind", "agent"}, {"host", "127.0.0.1"}, {"port", mill.port()}, {"machine", "moved"}})
            .json();
    EXPECT_NE(moved["said"].dump().find("no address is asked but the one set up"), std::string::npos)
        << moved;
    const Json nobody =
        shop.pat->post("/api/feeds/try", {{"kind", "agent"}, {"host", "127.0.0.1"}, {"port", 1}}).json();
    EXPECT_NE(nobody["said"].dump().find("does not answer"), std::string::npos) << nobody;
}

// A gauge that goes round serves whatever is read with it, and is changed in place: what it said before the
// change counts no more.
TEST(Feeds, AGaugeThatGoesRoundIsChangedInPlace) {
    Talker gauge;
    Fed fed;
    Json settings{{"kind", "network"}, {"host", "127.0.0.1"}, {"port", gauge.port()},
                  {"decides", "each"}, {"still", 0.02},       {"channels", {{{"what", "any"}}}}};
    fed.set_up(settings, "dial");
    until([&] { return Json(gauge.connected()); }, [](const Json& yes) { return yes == true; });
    gauge.say("+0002.138\r\n");
    const Json now = fed.until_now([](const Json& n) { return !n["offered"].is_null(); });
    EXPECT_EQ(now["offered"]["readings"][0]["what"], "any");
    EXPECT_EQ(now["offered"]["readings"][0]["value_mm"], 2.138);
    Json feed = fed.shop.pat->get("/api/feeds").json()["feeds"][0];
    EXPECT_EQ(feed["settings"]["at"], "") << "of no machine";
    EXPECT_EQ(feed["settings"]["still_deg"], 0.02) << "set up with one figure for both";
    Json body = feed["settings"];
    body["still_deg"] = 0.1;
    body.update({{"name", "dial of the long table"}, {"at", "long table"}, {"version", feed["version"]}});
    body["channels"][0]["unit"] = "deg";
    ASSERT_EQ(fed.shop.pat->send("PUT", fed.path(""), body.dump()).status, 200);
    EXPECT_EQ(fed.shop.pat->send("PUT", fed.path(""), body.dump()).status, 409)
        << "made on what it was before";
    feed = fed.shop.pat->get("/api/feeds").json()["feeds"][0];
    EXPECT_EQ(feed["settings"]["at"], "long table");
    EXPECT_EQ(feed["settings"]["still"], 0.02);
    EXPECT_EQ(feed["settings"]["still_deg"], 0.1);
    EXPECT_TRUE(fed.now()["offered"].is_null());
    until([&] { return Json(gauge.connected()); }, [](const Json& yes) { return yes == true; });
    // The talker takes the new connection in a moment of its own.
    const Json again = fed.until_now([&](const Json& n) {
        if (n["offered"].is_null()) gauge.say("+0000.120\r\n");
        return !n["offered"].is_null();
    });
    EXPECT_EQ(again["offered"]["readings"][0]["value_deg"], 0.12);
    EXPECT_EQ(again["offered"]["source"], "dial of the long table");
}

TEST(Feeds, WhatCannotBeIsRefusedWithASentence) {
    TestShop shop;
    const Json good = xy("agent", 5000);
    const auto with = [&](const Json& more) {
        Json body = good;
        body["name"] = "a";
        body.update(more);
        return shop.pat->post("/api/feeds", body);
    };
    EXPECT_NE(with({{"kind", "radio"}}).error().find("kind is one of agent"), std::string::npos);
    EXPECT_NE(with({{"host", "http://x/y"}}).error().find("a name or an address"), std::string::npos);
    EXPECT_NE(with({{"port", 70'000}}).error().find("1 to 65535"), std::string::npos);
    EXPECT_NE(with({{"ask", "R"}}).error().find("nothing is ever written to a machine"), std::string::npos);
    EXPECT_NE(with({{"channels", Json::array()}}).error().find("1 to 16"), std::string::npos);
    EXPECT_NE(with({{"channels", {{{"what", "x"}}, {{"what", "x"}}}}}).error().find("two channels"),
              std::string::npos);
    EXPECT_NE(with({{"channels", {{{"what", "x"}, {"unit", "yard"}}}}}).error().find("unit is"),
              std::string::npos);
    EXPECT_NE(with({{"decides", "pedal"}}).error().find("pedal_key"), std::string::npos);
    EXPECT_NE(with({{"at", std::string(101, 'm')}}).error().find("at most 100 letters"), std::string::npos);
    EXPECT_NE(with({{"still", -1}}).error().find("mm: 0 to 10"), std::string::npos);
    EXPECT_NE(with({{"still_deg", 11}}).error().find("degrees: 0 to 10"), std::string::npos);
    EXPECT_EQ(shop.pat->get("/api/feeds/7/now").status, 404);
    auto mia = shop.person("Mia", "machinist");
    EXPECT_EQ(mia->post("/api/feeds", good).status, 403);
    EXPECT_EQ(mia->post("/api/feeds/try", good).status, 403) << "who may not set one up asks no address";
}

}  // namespace
}  // namespace seatwright::server
