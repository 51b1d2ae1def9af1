// Attackers from 127.0.0.2 and 127.0.0.3 against a server on 127.0.0.1, and people who work meanwhile and
// whose waits are counted. For tests and bench; nothing leaves the machine.
#pragma once

#include <algorithm>
#include <array>
#include <atomic>
#include <chrono>
#include <mutex>
#include <string>
#include <thread>
#include <vector>

#include "raw.hpp"

namespace seatwright::server {

enum class Attack { slow_heads, slow_bodies, huge_headers, many_ranges, idle, half_handshakes };

inline constexpr std::array every_attack{Attack::slow_heads,  Attack::slow_bodies, Attack::huge_headers,
                                         Attack::many_ranges, Attack::idle,        Attack::half_handshakes};

inline const char* name_of(Attack attack) {
    switch (attack) {
        case Attack::slow_heads:
            return "slow heads";
        case Attack::slow_bodies:
            return "slow bodies";
        case Attack::huge_headers:
            return "huge headers";
        case Attack::many_ranges:
            return "a Range of many parts";
        case Attack::idle:
            return "idle connections";
        default:
            return "half TLS handshakes";
    }
}

// Each attacker holds one connection at a time and comes again, after a moment, when it is put out.
class Attackers {
  public:
    Attackers(Attack attack, Over over, int port, int count) {
        for (int i = 0; i < count; ++i)
            threads_.emplace_back([this, attack, over, port, i] {
                while (!enough_) {
                    const Over goes_over = attack == Attack::half_handshakes ? Over::http : over;
                    Raw raw(port, goes_over, i % 2 == 0 ? "127.0.0.2" : "127.0.0.3");
                    once(raw, attack);
                    rest(200);
                }
            });
    }
    ~Attackers() {
        enough_ = true;
        for (auto& thread : threads_) thread.join();
    }
    Attackers(const Attackers&) = delete;
    Attackers& operator=(const Attackers&) = delete;

  private:
    void once(Raw& raw, Attack attack) {
        const std::string get = "GET / HTTP/1.1\r\nHost: localhost\r\n";
        switch (attack) {
            case Attack::slow_heads:
                return drip(raw, get, "x");
            case Attack::slow_bodies:
                return drip(
                    raw,
                    "POST /api/session HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\n"
                    "Content-Length: 1000000\r\n\r\n",
                    std::string(1000, '1'));
            case Attack::huge_headers:
                raw.send(get + "x: " + std::string(100'000, 'a') + "\r\n\r\n");
                return static_cast<void>(raw.receive(1));
            case Attack::many_ranges: {
                std::string range = "Range: bytes=0-";
                while (range.size() < 8000) range += ",0-";
                raw.send(get + range + "\r\nConnection: close\r\n\r\n");
                return static_cast<void>(raw.receive(1u << 20));
            }
            case Attack::idle:
                return rest(3000);
            case Attack::half_handshakes:
                // The beginning of a ClientHello of 512 bytes (RFC 8446, 4.1.2), and no more.
                raw.send(std::string("\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03", 11));
                return rest(3000);
        }
    }
    void drip(Raw& raw, const std::string& start, const std::string& more) {
        if (!raw.send(start)) return;
        for (int i = 0; i < 100 && !enough_ && raw.send(more); ++i) rest(100);
    }
    void rest(int ms) const {
        for (int i = 0; i < ms / 20 && !enough_; ++i)
            std::this_thread::sleep_for(std::chrono::milliseconds(20));
    }
    std::atomic<bool> enough_{false};
    std::vector<std::thread> threads_;
};

// One answer over a connection that is kept; empty if it did not come whole.
inline std::string answer_over(Raw& raw, const std::string& request) {
    if (!raw.send(request)) return {};
    std::string all;
    const std::string mark = "Content-Length: ";
    for (std::size_t whole = 0; whole == 0 || all.size() < whole;) {
        const std::string more = raw.receive(1);
        if (more.empty()) return {};
        all += more;
        const auto end = all.find("\r\n\r\n");
        if (end == std::string::npos) continue;
        const auto length = all.find(mark);
        whole = end + 4 + (length < end ? std::stoul(all.substr(length + mark.size())) : 0);
    }
    return all;
}

struct Waits {
    double p99_ms = 0;
    int answered = 0, failed = 0;
};

// So many people, each with a connection from 127.0.0.1, who ask one request after the other, every
// `pace_ms`, and want a 200.
inline Waits waits_of(int people, Over over, int port, const std::vector<std::string>& requests,
                      double seconds, int pace_ms) {
    using Clock = std::chrono::steady_clock;
    std::mutex mutex;
    std::vector<double> all;
    Waits waits;
    std::vector<std::thread> threads;
    const auto until = Clock::now() + std::chrono::duration<double>(seconds);
    for (int who = 0; who < people; ++who)
        threads.emplace_back([&, who] {
            std::this_thread::sleep_for(std::chrono::milliseconds(who * pace_ms / people));
            Raw raw(port, over);
            for (std::size_t n = static_cast<std::size_t>(who); Clock::now() < until; ++n) {
                const auto start = Clock::now();
                const bool good = status_in(answer_over(raw, requests[n % requests.size()])) == 200;
                const double wait = std::chrono::duration<double, std::milli>(Clock::now() - start).count();
                {
                    const std::lock_guard lock(mutex);
                    all.push_back(wait);
                    ++(good ? waits.answered : waits.failed);
                }
                if (!good) return;
                std::this_thread::sleep_for(std::chrono::milliseconds(pace_ms));
            }
        });
    for (auto& thread : threads) thread.join();
    std::sort(all.begin(), all.end());
    if (!all.empty()) waits.p99_ms = all[all.size() * 99 / 100 - (all.size() < 100 ? 0 : 1)];
    return waits;
}

}  // namespace seatwright::server
