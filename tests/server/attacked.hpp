// `serve` in a process of its own under one attack after the other, with twenty people at work on a job: what
// they wait and what memory it takes. For the test and the bench.
#pragma once

#include <cstdio>
#include <memory>

#include "attackers.hpp"
#include "certificate.hpp"
#include "client.hpp"
#include "process.hpp"

namespace seatwright::server {

struct UnderAttack {
    Attack attack = Attack::idle;
    Waits waits;
    double memory = 0;  // MiB, the most seen, over what it had before the attacks
};

class Attacked {
  public:
    explicit Attacked(Over over) : over_(over) {
        options_.data = folder_.path() + "/data";
        options_.port = 0;
        if (over == Over::https) {
            options_.certificate = folder_.path() + "/certificate.pem";
            options_.key = folder_.path() + "/key.pem";
            if (!make_certificate(options_.certificate, options_.key)) return;
        }
        serving_ = std::make_unique<Serving>(options_);
        port_ = serving_->port();
    }
    // Makes the owner and a job, and what the people will ask. False if that fails.
    bool begin() {
        if (port_ <= 0) return false;
        Raw raw(port_, over_);
        const std::string made = posted(raw, "/api/owner", {{"name", "Pat"}, {"password", good_password}});
        if (status_in(made) != 201) return false;
        const auto at = made.find("Set-Cookie: ") + 12;
        const auto body = Json::parse(made.substr(made.find("\r\n\r\n") + 4), nullptr, false);
        who_ = "Cookie: " + made.substr(at, made.find(';', at) - at) +
               "\r\nX-CSRF-Token: " + body.value("csrf", std::string()) + "\r\n";
        if (status_in(posted(raw, "/api/jobs", {{"from", "example"}, {"example", "wedge"}})) != 201)
            return false;
        for (const std::string path : {"/api/jobs", "/api/jobs/1/state", "/api/jobs/1/drawings/map.svg",
                                       "/api/jobs/1/entries?after=30"})
            requests_.push_back("GET " + path + start_ + who_ + "\r\n");
        // Everything has been computed once, and every connection has been there once.
        if (waits_of(20, over_, port_, requests_, 1, 50).failed > 0) return false;
        idle_ = serving_->memory_now();
        return true;
    }
    // Without any attack.
    Waits in_peace(double seconds) const { return waits_of(20, over_, port_, requests_, seconds, 100); }
    UnderAttack by(Attack attack, double seconds) {
        const Attackers attackers(attack, over_, port_, 220);
        std::this_thread::sleep_for(std::chrono::milliseconds(300));
        UnderAttack found{attack, {}, 0};
        std::atomic<bool> over{false};
        std::thread watch([&] {
            while (!over) {
                found.memory = std::max(found.memory, serving_->memory_now() - idle_);
                std::this_thread::sleep_for(std::chrono::milliseconds(50));
            }
        });
        found.waits = waits_of(20, over_, port_, requests_, seconds, 100);
        over = true;
        watch.join();
        std::printf("%-22s p99 %6.1f ms of %4d, %5.1f MiB over idle\n", name_of(attack), found.waits.p99_ms,
                    found.waits.answered, found.memory);
        return found;
    }

  private:
    std::string posted(Raw& raw, const std::string& path, const Json& body) const {
        const std::string text = body.dump();
        return answer_over(raw, "POST " + path + start_ + who_ +
                                    "Content-Type: application/json\r\nContent-Length: " +
                                    std::to_string(text.size()) + "\r\n\r\n" + text);
    }
    store::TestFolder folder_;
    ServeOptions options_;
    Over over_;
    std::unique_ptr<Serving> serving_;
    int port_ = 0;
    std::string start_ = " HTTP/1.1\r\nHost: localhost\r\n", who_;
    std::vector<std::string> requests_;
    double idle_ = 0;
};

}  // namespace seatwright::server
