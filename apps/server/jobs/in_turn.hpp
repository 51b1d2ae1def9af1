// Does one thing for each job named, in a thread of its own, the lowest number first; a job named again while
// it waits is done once.
#pragma once

#include <condition_variable>
#include <functional>
#include <mutex>
#include <set>
#include <thread>

namespace seatwright::server {

class InTurn {
  public:
    InTurn() = default;
    ~InTurn();  // after the job under way; those that wait are not done
    InTurn(const InTurn&) = delete;
    InTurn& operator=(const InTurn&) = delete;

    using Work = std::function<void(long long job)>;
    // Once. Jobs named before wait for it. What `work` throws is logged.
    void start(Work work);
    void add(long long job);
    bool started() const { return thread_.joinable(); }
    // Whether the job is still to be begun.
    bool waits(long long job);

  private:
    void run();
    Work work_;
    std::mutex mutex_;
    std::condition_variable some_;
    std::set<long long> waiting_;
    bool over_ = false;
    std::thread thread_;
};

}  // namespace seatwright::server
