// Threads for connections: one more is made when all are busy, up to a bound; what comes then waits.
#pragma once

#include "server/http/http.hpp"

#include <condition_variable>
#include <deque>
#include <functional>
#include <mutex>
#include <thread>
#include <vector>

namespace seatwright::server {

class GrowingPool : public httplib::TaskQueue {
  public:
    explicit GrowingPool(std::size_t most) : most_(most) {}
    void enqueue(std::function<void()> work) override;
    // Waits for what is under way and what waits.
    void shutdown() override;

  private:
    void run();
    std::size_t most_;
    std::mutex mutex_;
    std::condition_variable some_;
    std::deque<std::function<void()>> waiting_;
    std::vector<std::thread> threads_;
    std::size_t idle_ = 0;
    bool over_ = false;
};

}  // namespace seatwright::server
