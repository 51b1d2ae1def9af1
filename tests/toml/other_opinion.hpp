// The same text read by another program, toml++: whether it takes it, and where its values differ from ours.
#pragma once

#include <string>

#include "seatwright/toml/document.hpp"

namespace seatwright::toml::test {

struct Opinion {
    bool accepts = false;
    // The other takes some of its input for granted: a name behind a bracket or dot, no letters beyond ASCII
    // outside quotes or behind joined lines. What it does where that does not hold is undefined.
    bool undefined = false;
    std::string said;  // why it refuses, or the first value it reads otherwise; empty if it agrees
};

// Compares the values if it accepts and the document has no faults.
Opinion other_opinion(const Document& document);

}  // namespace seatwright::toml::test
