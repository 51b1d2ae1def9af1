// Threads that answer requests: one more is made when all are busy, up to a bound; what comes then waits.
#pragma once

#include <condition_variable>
#include <deque>
#include <functional>
#include <mutex>
#include <thread>
#include <vector>

namespace seatwright::server {

class WorkerPool {
  public:
    explicit WorkerPool(std::size_t most) : most_(most) {}
    ~WorkerPool() { finish(); }
    WorkerPool(const WorkerPool&) = delete;
    WorkerPool& operator=(const WorkerPool&) = delete;

    void add(std::function<void()> work);
    // Waits for what is under way and what waits; nothing may be added afterwards.
    void finish();

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
