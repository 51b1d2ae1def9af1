// Computes a job anew as soon as it has changed, while somebody looks at it, so that the pages that hear of
// the change find the answer made or on its way.
#pragma once

#include <condition_variable>
#include <functional>
#include <mutex>
#include <set>
#include <thread>

namespace seatwright::server {

class Recompute {
  public:
    Recompute() = default;
    ~Recompute();  // after the job under way
    Recompute(const Recompute&) = delete;
    Recompute& operator=(const Recompute&) = delete;

    using Work = std::function<void(long long job)>;
    // `work` computes one job; what it throws is passed over (whoever asks for the job will hear of it).
    // `done`: a job that was to be worked out again has been. Once; before it nothing is computed.
    void start(Work work, Work done);
    // Somebody asked for the job: its next change is worth computing.
    void looked_at(long long job);
    void changed(long long job);
    // Much of the job has to be worked out again: it is, whoever looks, and nobody is to wait for it or to be
    // given a file of it meanwhile.
    void again(long long job);
    bool is_again(long long job);

  private:
    void run();
    Work work_, done_;
    std::mutex mutex_;
    std::condition_variable some_;
    std::set<long long> looked_at_, waiting_, again_;
    bool over_ = false;
    std::thread thread_;
};

}  // namespace seatwright::server
