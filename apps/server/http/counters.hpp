// What is counted of the answers given, for whoever watches over the server.
#pragma once

#include <array>
#include <atomic>
#include <chrono>
#include <string>
#include <string_view>

namespace seatwright::server {

struct AnswerNote {
    std::string method;
    std::string_view route;
    int status = 200;
    std::chrono::duration<double> seconds{};  // from the whole request to the whole answer
    long long person = 0;                     // number of who asked; 0: nobody logged in
};

// Thread-safe.
class Counters {
  public:
    void note(const AnswerNote& answered);
    // In the text form of Prometheus (exposition format 0.0.4): seatwright_requests_total by kind and status,
    // seatwright_request_seconds as a histogram.
    std::string text() const;

  private:
    static constexpr std::array<double, 9> bounds{0.001, 0.005, 0.01, 0.02, 0.05, 0.1, 0.5, 1, 5};  // s
    std::array<std::array<std::atomic<long long>, 5>, 2> answers_{};  // looked or changed; 1xx … 5xx
    std::array<std::atomic<long long>, bounds.size() + 1>
        within_{};  // each: up to its bound, the last all above
    std::atomic<long long> microseconds_ = 0;
};

}  // namespace seatwright::server
