// Threads that answer requests: one more is made when all are busy, up to a bound.
//
// A few are worked on at once, in the order of their coming, so that each ends soon and nobody's waits for
// long: twenty begun together would all end late. What has taken `soon` or longer (a paper, a wait for the
// disk) is no longer counted among them, so that it holds nobody up.
#pragma once

#include <chrono>
#include <condition_variable>
#include <deque>
#include <functional>
#include <list>
#include <mutex>
#include <thread>
#include <vector>

namespace seatwright::server {

class WorkerPool {
  public:
    // `most`: threads; `few`: how many are worked on at once, but for those that take `soon` or longer.
    explicit WorkerPool(std::size_t most, std::size_t few = a_few(),
                        std::chrono::milliseconds soon = std::chrono::milliseconds(20))
        : most_(most), few_(few), soon_(soon) {}
    ~WorkerPool() { finish(); }
    WorkerPool(const WorkerPool&) = delete;
    WorkerPool& operator=(const WorkerPool&) = delete;

    // While one lives, what its thread works on is not counted: it waits for its turn.
    class Waits {
      public:
        Waits();
        ~Waits();
        Waits(const Waits&) = delete;
        Waits& operator=(const Waits&) = delete;
    };

    void add(std::function<void()> work);
    // Waits for what is under way and what waits; nothing may be added afterwards.
    void finish();

  private:
    using Clock = std::chrono::steady_clock;
    static std::size_t a_few() { return std::thread::hardware_concurrency() + 2; }
    // What a thread of a pool works on.
    struct Own {
        WorkerPool* pool = nullptr;
        std::list<Clock::time_point>::iterator begun;
    };
    static Own& own();
    void run();
    void await_some(std::unique_lock<std::mutex>& lock);
    void have_one_idle();
    std::size_t most_, few_;
    std::chrono::milliseconds soon_;
    std::mutex mutex_;
    std::condition_variable some_;
    std::deque<std::function<void()>> waiting_;
    std::list<Clock::time_point> begun_;  // of what is under way, in order
    std::list<Clock::time_point> aside_;  // of what waits
    std::vector<std::thread> threads_;
    std::size_t idle_ = 0;
    bool over_ = false;
};

}  // namespace seatwright::server
