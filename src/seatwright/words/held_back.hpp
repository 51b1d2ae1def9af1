// What is planned but not written for the machine, and why (working.md, "What blocks, what asks, what
// tells").
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "seatwright/words/part.hpp"

namespace seatwright {

enum class HeldCode {
    not_measured,
    below_finish,
    too_deep,
    guide_repair,
    no_pilot,
    pilot_window,
    guide_room,
    no_cutter,
    not_allowed,
    touch_first,
    fit,
    way_round,
    reach,
    travel,
    plumb,
    safety,
    clash,
    zero_void,
    trim_large,
    doubt,
    suspect,
    not_from_you,
    missing
};

// "not-measured", "below-finish", …: the code as JSON has it.
std::string_view word_of(HeldCode code);

struct HeldBack {
    std::string head;                  // empty: whichever head is planned
    std::string setup;                 // id; empty: the setup the valve is in, or every setup
    std::optional<std::string> valve;  // none: the whole setup
    HeldCode code = HeldCode::missing;
    Sentence reason;
    Sentence frees;       // what would free it; for `missing` the key
    std::string allow{};  // what a lead may let pass, as [[allow]] names it; empty: nothing
    Sentence sure{};      // the figure that is asked about, as `sure` names it; empty: none
};

}  // namespace seatwright
