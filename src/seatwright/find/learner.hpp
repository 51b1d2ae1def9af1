// Learning at work: the pattern learned so far given to each head before it is fitted, and what it adds to
// the record after.
#pragma once

#include <vector>

#include "seatwright/find/learning.hpp"
#include "seatwright/find/setup.hpp"

namespace seatwright::find {

// What a located head says of the pattern in one setup.
struct Contribution {
    std::string head;
    bool foreign = false;
    std::optional<Deviations> deviations;  // none: nothing
};

// Past heads that are heads of this job too, given what was learned in it: they teach once.
std::vector<std::string> known_from_here(const job::Job& job);

class Learner {
  public:
    Learner(const job::Job& job, const hold::Hold& hold);

    struct Prepared {
        SetupInput input;
        bool foreign = false;  // does not belong to the casting on record: fitted to the declared pattern
    };
    // The input with the pattern learned of the heads so far, unless the head does not belong.
    Prepared prepare(std::size_t setup, SetupInput input) const;
    // Takes a located head in; says which heads it found not to belong.
    Notices take(std::size_t setup, const Contribution& head, PatternRecord::Undo& undo);
    void take_back(std::size_t setup, PatternRecord::Undo undo) {
        records_[setup].take_back(std::move(undo));
    }
    Contribution contribution_of(std::size_t setup, const Prepared& prepared,
                                 const SetupOutcome& outcome) const;
    // Of all that prepare() and contribution_of() go by besides what they are given: what was learned so far.
    void add_learned(FingerprintOf& print) const;

    // All heads that taught, as a casting keeps them (those of job.find.past first).
    std::vector<job::PastHead> record(const job::Job& job, const hold::Hold& hold) const;

    // The next head's pattern in each setup, and what was learned of each valve.
    std::vector<std::vector<Expected>> next_patterns() const;
    std::vector<Learned> learned() const;
    std::vector<Repeatability> repeatability() const;

  private:
    struct Setup {
        std::string id;
        std::vector<std::size_t> valves;  // as hold has them
    };
    std::vector<Setup> setups_;
    std::size_t least_heads_;
    std::vector<std::vector<Expected>> declared_;
    std::vector<PatternRecord> records_;
};

}  // namespace seatwright::find
