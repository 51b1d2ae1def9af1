// The clock on the wall put forward or back under a running workbench; clocks that only measure how long
// something takes go on as they do. The whole process sees it: this program's own clock_gettime stands before
// the library's.
#pragma once

#include <atomic>
#include <chrono>

namespace seatwright::server {

// What is added to it, in seconds.
std::atomic<long long>& clock_is_off();

class SetClock {
  public:
    explicit SetClock(std::chrono::seconds by) { clock_is_off() += by.count(); }
    ~SetClock() { clock_is_off() = 0; }
    SetClock(const SetClock&) = delete;
    SetClock& operator=(const SetClock&) = delete;
};

}  // namespace seatwright::server
