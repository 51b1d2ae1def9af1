// Gives a head's unlabelled touches to the guides of its setups before the setups are fitted.
#pragma once

#include <vector>

#include "seatwright/find/setup.hpp"

namespace seatwright::find {

struct Labelled : Notices {
    std::vector<SetupInput> inputs;  // with the touches labelled
};

// All of a head's unlabelled touches are taken to be of one setup, the one they fit best. What fits nowhere
// stays out, with a STOP that holds the head back; where the runner-up fits nearly as well one holds the
// setup back.
Labelled label_touches(const job::Job& job, std::vector<SetupInput> inputs,
                       const std::vector<Unlabelled>& touches);

}  // namespace seatwright::find
