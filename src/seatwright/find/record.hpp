// The readings sorted by head and by setup: what locate() goes through.
#pragma once

#include <string>
#include <vector>

#include "seatwright/find/assign.hpp"
#include "seatwright/find/setup.hpp"

namespace seatwright::find {

// One head's share of the readings.
struct HeadRecord {
    std::string head;
    std::vector<std::size_t> touches;               // indices into job.readings.touches
    std::vector<const job::GuideBore*> last_guide;  // by valve; empty when none of its guides was read
};

struct Record {
    std::vector<HeadRecord> heads;                  // with touches, in order of first appearance; else one
    std::vector<const job::GuideBore*> last_guide;  // by valve, over all heads; null = never read
    std::vector<std::size_t> touch_valve;           // by touch; npos = unlabelled
    static constexpr std::size_t npos = static_cast<std::size_t>(-1);
};

Record record_of(const job::Job& job);

// One input a setup, with the head's labelled touches; and its unlabelled ones.
std::vector<SetupInput> inputs_of(const job::Job& job, const hold::Hold& hold, const Record& record,
                                  const HeadRecord& head, const std::vector<PilotChoice>& pilots);
std::vector<Unlabelled> unlabelled_of(const job::Job& job, const Record& record, const HeadRecord& head);

}  // namespace seatwright::find
