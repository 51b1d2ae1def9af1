// The pilots of one form's seats: which leads each, and which stands in the guide Z0 is taken in.
#pragma once

#include <optional>
#include <utility>
#include <vector>

#include "seatwright/cut/pilot_windows.hpp"
#include "seatwright/cut/zeros.hpp"

namespace seatwright::cut {

struct ReadySeat {
    std::size_t seat = 0;    // place in SeatPlan::seats
    std::size_t shaped = 0;  // place in shape.seats
    std::size_t valve = 0;
    job::PilotUse use = job::PilotUse::carried;
    std::optional<std::size_t> pilot;
    std::optional<PilotStand> stand;  // none without a pilot
    double map_z = 0;                 // m
    double stop = 0;                  // s
    double depth = 0;                 // d; what it may be at the most where the old seat was not read
    bool depth_known = true;
    double u = 0;         // U of its Z
    double approach = 0;  // over the stop, where the slow way in ends
    ToolBelow below;
};

struct Led {
    std::vector<ReadySeat> seats;                         // with pilot, use, stand and below set
    std::vector<std::pair<std::size_t, Misfit>> refused;  // valve, and why
};
// The fewest pilots that lead the seats, or form.pilot alone; none at all where [cut] pilot = "none".
Led lead(const Known& known, const FormInSetup& form, const std::vector<ReadySeat>& seats);

// What stands in the guide Z0 is taken in.
struct ZeroPilot {
    std::optional<std::size_t> pilot;  // none: Z0 is taken in no guide, or none is known to fit there
    double tip = 0;                    // gauge plane down to the tool's lowest point with it, slide out
    std::optional<double> top;         // planted: height of its top, m's frame
};
// That of the touched seat; one that is not among `seats` has the first of theirs that stands there at that
// height, else the largest of the shelf that does.
ZeroPilot zero_pilot(const Known& known, const FormInSetup& form, const shape::Zero& zero,
                     const std::vector<ReadySeat>& seats);

// Whether that pilot may go into the guide of a seat (its place in shape.seats): not where readings say it
// does not.
bool may_stand(const Known& known, std::size_t shaped, std::size_t pilot);

// The tool's lowest point below the gauge plane, slide out: the tip of a pilot in the tool, else the cutter's
// lowest edge. The shelf gives the lengths that takes.
double tip_below(const job::Job& job, job::PilotUse use, const std::optional<std::size_t>& pilot,
                 std::size_t cutter);

}  // namespace seatwright::cut
