// What a person who looked at the picture says of the features found: renamed, dropped, confirmed.
#pragma once

#include <map>
#include <string>

#include "seatwright/scan/scan.hpp"

namespace seatwright::scan {

struct Change {
    std::optional<std::string> id;         // of a valve: "2Ea", which says its cylinder and kind too
    std::optional<survey::HoleKind> what;  // of a hole
    bool dropped = false, confirmed = false;
};

struct Changes {
    std::map<std::string, Change> valves, holes;  // by the id found
    std::string by;                               // who said so
};

// The scan with them. Faults: a name that is none, two valves of one name, a feature that is not there; and
// features in doubt that nobody has confirmed, renamed or dropped, each with its sentence.
Checked<Scan> changed(Scan scan, const Changes& changes);

// Why a feature is in doubt, in a sentence; empty: it is not.
std::string doubt_of(const Valve& valve);
std::string doubt_of(const Hole& hole);

}  // namespace seatwright::scan
