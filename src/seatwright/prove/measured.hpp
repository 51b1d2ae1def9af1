// Every seat that was measured, judged by itself, kept while readings come in: a reading has one seat judged
// anew.
#pragma once

#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <unordered_map>
#include <vector>

#include "seatwright/prove/seat.hpp"

namespace seatwright::prove {

// A seat among those of all heads.
struct MeasuredSeat {
    std::size_t head = 0;  // ordinal of the head among those on record, from 0
    const SeatResult* result = nullptr;
};

class Measured {
  public:
    // Takes a job's readings; only what was put behind those of before is looked at, where that is known.
    // Always for jobs that differ in readings alone.
    void take(const job::Job& job);

    // With a reading after cutting, in order of first appearance.
    const std::vector<std::string>& heads() const { return heads_; }
    // By head, then head order; they stand until take().
    std::vector<MeasuredSeat> seats() const;
    bool has(std::size_t head, std::size_t valve) const { return by_head_[head].contains(valve); }
    // Of the pilot that the guide as read last takes; empty: not read, or none fits.
    const std::string& pilot(std::size_t head, std::size_t valve) const;

  private:
    struct Seat {
        std::vector<std::size_t> readings;  // indices into job.readings.proofs
        std::shared_ptr<const SeatResult> result;
    };
    using Seats = std::map<std::size_t, Seat>;  // by valve

    void note(std::size_t reading);
    void take_over(const std::vector<std::string>& heads, const std::vector<Seats>& by_head,
                   const GrowingList<job::SeatAfter>& proofs);
    void take_guides(const job::Job& job);

    GrowingList<job::SeatAfter> proofs_;
    std::unordered_map<std::string, std::size_t> valves_, places_;  // of heads
    std::vector<std::string> heads_;
    std::vector<Seats> by_head_;
    std::vector<std::pair<std::size_t, std::size_t>> changed_;  // head and valve
    GrowingList<job::GuideBore> guides_;
    std::unordered_map<std::string, std::vector<std::string>> pilots_;  // by head, then valve
};

// The same for several runs over one job's readings; a run holds it locked.
class Before {
  public:
    std::mutex mutex;
    Measured measured;
};

}  // namespace seatwright::prove
