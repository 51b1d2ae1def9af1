// Following an agent without missing anything unsaid: what to ask it next, and what its answer means. First
// what it has (/probe), then what stands (/current), then what is new from there on (/sample). Another
// instance is another agent: all is asked anew. What fell out of its memory meanwhile is said, as how many.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "seatwright/live/mtconnect.hpp"

namespace seatwright::live {

struct FollowSettings {
    std::string device{};  // "mill": the path before /probe; empty: all the agent has
    int interval_ms = 50, heartbeat_ms = 1000, count = 1000;
};

struct Followed {
    std::vector<Observation> observations;
    std::vector<Sentence> notes;     // a gap, a restart, an error of the agent's
    std::optional<Devices> devices;  // of a probe
    bool ask_again = false;          // the stream is no longer the right one: end it, ask next()
};

class Follow {
  public:
    explicit Follow(FollowSettings settings = {}) : settings_(std::move(settings)) {}

    // The path of what is to be asked next: "/mill/sample?from=42&…".
    std::string next() const;
    // Whether the answer to next() goes on, part after part.
    bool streams() const { return state_ == State::sample; }
    // A document, or what came instead of one. Where a connection ended in between, next() goes on from what
    // was taken last, so that nothing is missed.
    Followed take(std::string_view xml);

  private:
    enum class State { probe, current, sample };
    Followed take(Streams&& streams);
    Followed restarted();
    std::string path(std::string_view rest) const;

    FollowSettings settings_;
    State state_ = State::probe;
    std::optional<std::uint64_t> instance_;
    std::uint64_t next_ = 0;
};

}  // namespace seatwright::live
