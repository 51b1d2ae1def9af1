// Every seat that was measured, judged by itself, kept while readings come in: a reading has one seat judged
// anew.
#pragma once

#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <set>
#include <string>
#include <unordered_map>
#include <vector>

#include "seatwright/prove/characteristic.hpp"
#include "seatwright/prove/seat.hpp"

namespace seatwright::prove {

// A seat among those of all heads.
struct MeasuredSeat {
    std::size_t head = 0;  // ordinal of the head among those on record, from 0
    const SeatResult* result = nullptr;
};

// Seats whose runout was judged.
struct Counted {
    std::size_t measured = 0, passed = 0;
};

class Measured {
  public:
    // Takes a job's readings; only what was put behind those of before is looked at, where that is known.
    // Always for jobs that differ in readings alone.
    void take(const job::Job& job);

    // With a reading after cutting, in order of first appearance.
    const std::vector<std::string>& heads() const { return heads_; }
    // By head, then head order, of one head or, empty, of all; they stand until take().
    std::vector<MeasuredSeat> seats(const std::string& head) const;
    std::vector<Unmeasured> unmeasured(const job::Job& job, const std::string& head) const;
    Counted counted() const { return counted_; }
    // With the values of every seat.
    std::vector<Characteristic>& characteristics() { return characteristics_; }

  private:
    struct Seat {
        std::vector<std::size_t> readings;  // indices into job.readings.proofs
        std::shared_ptr<const SeatResult> result;
        Counted counted{};  // of it, among all
    };
    using Seats = std::map<std::size_t, Seat>;  // by valve

    void note(std::size_t reading);
    void take_over(const std::vector<std::string>& heads, const std::vector<Seats>& by_head,
                   const GrowingList<job::SeatAfter>& proofs);
    void judge_changed(const job::Job& job);
    void take_guides(const job::Job& job);
    void take_numbers();
    void take_values(const job::Job& job);
    const std::string& pilot(std::size_t head, std::size_t valve) const;
    std::pair<std::size_t, std::size_t> range_of(const std::string& head) const;

    GrowingList<job::SeatAfter> proofs_;
    std::unordered_map<std::string, std::size_t> valves_, places_;  // of heads
    std::vector<std::string> heads_;
    std::vector<Seats> by_head_;
    std::vector<job::Kind> kinds_;                              // of valves
    std::vector<double> numbers_;                               // of heads, on the drift's axis
    std::vector<std::pair<std::size_t, std::size_t>> changed_;  // head and valve
    std::set<std::size_t> other_values_;                        // heads whose values are to be taken anew
    std::vector<Characteristic> characteristics_;
    Counted counted_;
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
