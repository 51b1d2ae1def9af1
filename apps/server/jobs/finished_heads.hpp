// How many heads have every seat measured, kept while readings come in.
#pragma once

#include <set>
#include <string>
#include <unordered_map>

#include "seatwright/job/job.hpp"

namespace seatwright::server {

class FinishedHeads {
  public:
    // Of a job's readings. Always for jobs of one document.
    std::size_t take(const job::Job& job);

  private:
    GrowingList<job::SeatAfter> proofs_;
    std::set<std::string> valves_;
    std::unordered_map<std::string, std::set<std::string>> measured_;  // valves, by head
    std::size_t finished_ = 0;
};

}  // namespace seatwright::server
