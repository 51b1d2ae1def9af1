// The fewest pilot sizes that serve all guides of a program, then the largest: a pilot change is a halt away
// from the head.
//
// Exact set cover over the pilots whose windows (pilot_windows.hpp) each guide keeps, up to `most_covers`
// sets looked at; beyond that the first cover found by taking the pilot that serves most. Among covers of as
// few sizes the one whose pilots, each guide at its largest, add to most. Deterministic: ties go to the
// shelf. Where a tapered pilot fits a guide and only a figure of it is missing, no sliding one stands in for
// it: the guide waits for the figure, unless another tapered one serves.
#pragma once

#include <optional>
#include <vector>

#include "seatwright/cut/pilot_windows.hpp"

namespace seatwright::cut {

inline constexpr std::size_t most_covers = 20'000;

struct GuidePilot {
    std::optional<std::size_t> pilot;  // index into the pilots
    std::optional<PilotStand> stand;   // of that pilot
    std::optional<Misfit> misfit;      // where none serves: of the pilot that came nearest
};

struct PilotsOfProgram {
    std::vector<GuidePilot> guides;  // in the order given
    std::size_t sizes = 0;           // different pilots asked for
    bool proven = true;              // no fewer would do
};

// `rules.pilot` is not none.
PilotsOfProgram fewest_pilots(const job::CutRules& rules, const std::vector<job::Pilot>& pilots,
                              const job::Cutter& cutter, const std::vector<GuideAtStop>& guides);

}  // namespace seatwright::cut
