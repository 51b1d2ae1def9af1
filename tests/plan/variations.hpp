// Job texts that differ from one in the value of one key: for tests that must go through every key there is.
#pragma once

#include <string>
#include <vector>

#include "seatwright/base/fault.hpp"
#include "seatwright/job/walk.hpp"
#include "seatwright/plan/parts.hpp"

namespace seatwright::plan::test {

// A job file and its shop file.
struct Texts {
    std::string job, shop;
};

struct Variation {
    std::string what;  // "seat.intake.width = 1.515"
    job::Job job;
};

class Varying {
  public:
    explicit Varying(Texts texts);
    // Up to `most` readable jobs in which that key has another value (or has one at all), two at each of the
    // first places where the files can have it, the second beyond what can be where there is such a value;
    // none for a table.
    std::vector<Variation> of(const job::Key& key, std::size_t most) const;
    const job::Job& base() const { return base_; }

  private:
    void vary(std::string Texts::*file, const job::Value& root, const job::Key& key, std::size_t most,
              std::vector<Variation>& out) const;
    Texts texts_;
    job::Job base_;
    PartPrints prints_;
    job::Walked job_, shop_;
};

}  // namespace seatwright::plan::test
