// A scan as its page shows it: what was found of a head, its points to look at, its drawings, and the job it
// makes once somebody has looked.
#pragma once

#include "seatwright/papers/page/svg.hpp"
#include "server/jobs/scans.hpp"
#include "server/jobs/workbench.hpp"

namespace seatwright::server {

// What a page asks of it beside its number.
struct ScanAsked {
    bool end_for_end = false;
    std::optional<LengthUnit> units;  // shown; none: the file's
};

// Found once it is read; sentences in the units shown.
Json scan_json(const ScanStanding& standing, const ScanAsked& asked);
// Of each point 8 bytes, little end first: x, y, z as 16-bit whole numbers of `step_mm` (scan_json) in the
// head frame, what it lies on (0 nothing, 1 deck, 2 guide, 3 seat, 4 hole) and which valve or hole. Throws
// HttpError 409 before it is read, as the next ones do.
std::string scan_points(const ScanStanding& standing, const ScanAsked& asked);
// The plan, or a valve in section.
papers::Drawing scan_drawing(const ScanStanding& standing, const ScanAsked& asked, const std::string& valve);

// The text of the job it makes, with a fixture of the shop. `said`: {valves: {id: {id, dropped, confirmed}},
// holes: {id: {what, dropped, confirmed}}}. Throws HttpError 422 where features in doubt are left.
std::string job_of_scan(Workbench& bench, const ScanStanding& standing, const ScanAsked& asked,
                        const Json& said, const std::string& by);

}  // namespace seatwright::server
