// Learning at work: the lesson given to each head before it is fitted, and what it adds to the record after.
#pragma once

#include <vector>

#include "seatwright/find/learning.hpp"
#include "seatwright/find/setup.hpp"

namespace seatwright::find {

// What a located head says of the pattern in one setup.
struct Teaching {
    std::string head;
    bool foreign = false;
    std::optional<Deviations> deviations;  // none: nothing
};

class School {
  public:
    School(const job::Job& job, const hold::Hold& hold);

    struct Prepared {
        SetupInput input;
        bool foreign = false;  // does not belong to the casting on record: fitted to the declared pattern
    };
    // The input with the lesson of the heads so far as its pattern, unless the head does not belong.
    Prepared prepare(std::size_t setup, SetupInput input) const;
    // Takes a located head in; says which heads it found not to belong.
    Notices take(std::size_t setup, const Teaching& head);
    Teaching teaching_of(std::size_t setup, const Prepared& prepared, const SetupOutcome& outcome) const;
    // Of all that prepare() and teaching_of() go by besides what they are given: the lessons so far.
    void add_lessons(FingerprintOf& print) const;

    // The next head's pattern in each setup, and what was learned of each valve.
    std::vector<std::vector<Expected>> next_patterns() const;
    std::vector<Learned> learned() const;
    std::vector<Repeatability> repeatability() const;

  private:
    const hold::Hold& hold_;
    std::size_t least_heads_;
    std::vector<std::vector<Expected>> declared_;
    std::vector<Memory> memory_;
};

}  // namespace seatwright::find
