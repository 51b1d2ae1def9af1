// The sources of feeds: each is followed until it is no longer wanted, with whatever goes wrong on the way
// said and tried again. What is ever written: a request for a document, a sign of life, the word a gauge is
// asked with; nothing to a machine.
#pragma once

#include <functional>
#include <string>

#include "seatwright/live/mtconnect.hpp"
#include "server/feeds/settings.hpp"

namespace seatwright::server {

// Called from the thread that follows. Each may be asked many times a second.
struct Listener {
    std::function<void(const live::Observation&)> observed;
    std::function<void()> alive;                // something came, if only a sign of life
    std::function<void()> idle;                 // between two readings of the wire, some 20 times a second
    std::function<void()> lost;                 // what was said before counts no more
    std::function<void(const Sentence&)> said;  // what is wrong
    std::function<void(const live::Devices&)> devices;  // what an agent has
    std::function<bool()> ended;
};

void follow_source(const SourceSettings& settings, const Listener& listener);

}  // namespace seatwright::server
