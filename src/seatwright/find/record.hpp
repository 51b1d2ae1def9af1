// The readings sorted by head and by setup: what locate() goes through, kept while more come in.
#pragma once

#include <string>
#include <unordered_map>
#include <vector>

#include "seatwright/base/fingerprint.hpp"
#include "seatwright/find/assign.hpp"
#include "seatwright/find/setup.hpp"

namespace seatwright::find {

// Indices into job.readings.guides by valve, `unread` where none was read; empty when none was at all.
using GuidesRead = std::vector<std::size_t>;
inline constexpr std::size_t unread = static_cast<std::size_t>(-1);

// One head's share of the readings.
struct HeadRecord {
    std::string head;
    std::vector<std::size_t> touches;  // indices into job.readings.touches
    GuidesRead last_guide;
    Fingerprint print{};  // of these readings, with their places among all
};

class Record {
  public:
    // Takes a job's readings; gives the first place in `heads` that is another head, or the same with other
    // readings, than it was before: those in front of it stand. Only what was put behind the readings of
    // before is looked at, where that is known. Always for jobs that differ in touches and guides alone.
    std::size_t take(const job::Job& job);

    std::vector<HeadRecord> heads;         // with touches, in order of first appearance; else one
    GuidesRead last_guide;                 // over all heads; by valve
    std::vector<std::size_t> touch_valve;  // by touch; `unread` = unlabelled

  private:
    void note_touch(std::size_t touch);
    void note_guide(std::size_t guide);
    void changed(std::size_t head);
    Fingerprint print_of(const HeadRecord& head) const;

    GrowingList<job::Touch> touches_;
    GrowingList<job::GuideBore> guides_;
    std::unordered_map<std::string, std::size_t> valves_, places_;  // of heads
    std::unordered_map<std::string, GuidesRead> guides_of_;         // by head, touched or not
    bool nothing_touched_ = true;
    std::vector<std::size_t> changed_;
};

// One input a setup, with the head's labelled touches; and its unlabelled ones.
std::vector<SetupInput> inputs_of(const job::Job& job, const hold::Hold& hold, const Record& record,
                                  const HeadRecord& head, const std::vector<PilotChoice>& pilots);
std::vector<Unlabelled> unlabelled_of(const job::Job& job, const Record& record, const HeadRecord& head);

}  // namespace seatwright::find
