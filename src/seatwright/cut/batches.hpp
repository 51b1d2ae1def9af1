// Which seats go into one file.
//
// machine.zero = program: a file has one cutter, offsets: all cutters of the setup. Planted pilots that stand
// in each other's way, or of which the shop has too few, are planted in turns, one file for one planting;
// pilots that turn with the tool and such as do not are in files apart; where a pilot change takes the cutter
// off the spindle a file has one pilot a cutter. The turn of the first seat comes first, that of the touched
// seat last: Z0 can be checked on it till then.
#pragma once

#include <vector>

#include "seatwright/cut/forms.hpp"

namespace seatwright::cut {

// What one cutter does in one file.
struct Portion {
    const ReadyForm* form = nullptr;
    std::vector<const ReadySeat*> seats;
    bool has_first() const { return seats.front() == &form->seats.front(); }
    bool waits() const { return form->first.stops && !form->first.measured; }
};

struct Batch {
    std::vector<Portion> portions;
    int turn = 0;  // from 0: of the cutter's files, or of the setup's with machine.zero = offsets
};

// `forms`: those of one setup, in the order they are cut. In the order their files are run.
std::vector<Batch> batches_of(const job::Job& job, const hold::Hold& hold,
                              const std::vector<const ReadyForm*>& forms);

}  // namespace seatwright::cut
