// What a person who looked at the picture says of the features found: renamed, dropped, confirmed.
#pragma once

#include <map>
#include <string>
#include <tl/expected.hpp>
#include <vector>

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

// What stands against the changes: the feature, by the id it was found with or is to have, and a sentence
// that goes on behind it.
struct Objection {
    std::string feature;
    Sentence why;
};

// The scan with them. Objections, at least one: a name that is none, two valves of one name, a feature that
// is not there; and features in doubt that nobody has confirmed, renamed or dropped.
tl::expected<Scan, std::vector<Objection>> changed(Scan scan, const Changes& changes);

// Why a feature is in doubt; says nothing where it is not.
Sentence doubt_of(const Valve& valve);
Sentence doubt_of(const Hole& hole);

}  // namespace seatwright::scan
