// A feed as it is set up, and what of what it sends is offered as a reading: when its values have come to
// stand still, when a pedal says so, when a person does, or each that a gauge sends at its own button.
// Everything is proposed; nothing is taken by itself, and nothing goes back to where it came from.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "seatwright/live/channel.hpp"
#include "seatwright/live/clock_watch.hpp"
#include "seatwright/live/stillness.hpp"

namespace seatwright::live {

enum class Decides { stillness, pedal, person, each };

struct WatchSettings {
    std::string name;  // "mill readout"
    std::vector<Channel> channels;
    Decides decides = Decides::stillness;
    StillSettings still{};
    // An observation of this key, when it changes to one of a switch that is pressed ("ACTIVE", "ON", "1",
    // "true").
    std::string pedal_key{};
    Ms stale = 3'000;  // without anything from the source
};

struct Reading {
    std::string what;
    double value = 0;  // mm, or deg
    std::string raw;
    std::optional<Ms> stated{};
};

struct Proposed {
    std::string source;
    Decides by = Decides::person;
    Ms at = 0;  // the receiver's clock
    std::vector<Reading> readings;
    Sentence remark{};  // about the source's clock; says nothing: there is none
};

// What a feed shows while it runs.
struct Standing {
    std::map<std::string, Reading> values;    // by channel; only those known
    std::map<std::string, Sentence> refused;  // by channel: why it has none
    Sentence remark;
    bool stale = true;
};

class Watch {
  public:
    explicit Watch(WatchSettings settings);

    // Something came, if only a sign of life.
    void heard(Ms now) { heard_ = now; }
    // A proposal where a pedal or the gauge's own button has decided.
    std::optional<Proposed> see(const Observation& seen, Ms now);
    // Asked several times a second: a proposal where the values have come to rest.
    std::optional<Proposed> rest(Ms now);
    // What came to rest stands there still, and is heard of.
    bool rests(Ms now) const { return !stale(now) && stillness_.rests(); }
    // A person says so. Error: why there is no reading.
    tl::expected<Proposed, Sentence> take(Ms now, Decides by = Decides::person) const;
    // The source is gone, or was started anew: what it said counts no more.
    void lost();
    Standing standing(Ms now) const;

  private:
    struct Known {
        std::optional<Reading> reading;
        Sentence refused;
    };
    bool stale(Ms now) const { return !heard_ || now - *heard_ > settings_.stale; }
    bool pressed(const Observation& seen);
    void note(std::size_t which, const Observation& seen, bool late, Ms now);

    WatchSettings settings_;
    Stillness stillness_;
    ClockWatch clock_;
    std::vector<Known> known_;
    std::optional<Ms> heard_;
    Sentence remark_;
    std::optional<bool> pedal_;  // as last seen
};

}  // namespace seatwright::live
