#include "seatwright/plan/overrides.hpp"

#include "seatwright/hold/held_at.hpp"

namespace seatwright::plan {

hold::Hold held_at(hold::Hold hold, const job::Job& job, const Overrides::Attitude& attitude) {
    for (auto& setup : hold.setups)
        if (attitude.setup.empty() || attitude.setup == setup.id)
            setup = hold::held_at(job, setup, attitude.tilt.value_or(setup.tilt),
                                  attitude.swing.value_or(setup.swing));
    return hold;
}

}  // namespace seatwright::plan
