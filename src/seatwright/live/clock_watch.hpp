// Whether the times a source states can be believed. Nothing is decided by them: when a value stood still,
// how old it is, is reckoned by the receiver's own clock. They are kept with a reading, and said to be wrong
// where they are.
#pragma once

#include <map>
#include <optional>
#include <string>

#include "seatwright/live/observation.hpp"
#include "seatwright/words/part.hpp"

namespace seatwright::live {

class ClockWatch {
  public:
    static constexpr Ms ahead = 5'000, late = 2'000, far_off = 60'000;

    struct Judged {
        Sentence words;     // what is wrong with the time stated; says nothing: nothing is
        bool late = false;  // it came so long after it was seen that it is not what stands now
    };

    // `now`: the receiver's clock. Of what stood when it was asked for only a time to come is wrong.
    Judged judge(const Observation& seen, Ms now);

  private:
    std::map<std::string, Ms> last_;  // stated, of each key
    std::optional<Ms> least_;         // between stated and received: the clocks' difference and the way
};

}  // namespace seatwright::live
