// Computes a job anew as soon as it has changed, while somebody looks at it, so that the pages that hear of
// the change find the answer made or on its way.
#pragma once

#include <mutex>
#include <set>

#include "server/jobs/in_turn.hpp"

namespace seatwright::server {

class Recompute {
  public:
    using Work = InTurn::Work;
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
    void compute(long long job, const Work& work, const Work& done);
    std::mutex mutex_;  // held while a job is added, so that whether one waits and what is known of it agree
    std::set<long long> looked_at_, again_;
    InTurn turn_;  // last: ends first
};

}  // namespace seatwright::server
