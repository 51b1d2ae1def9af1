// Points of a scan to look at, each with what it lies on.
#pragma once

#include <cstdint>
#include <vector>

#include "seatwright/scan/scan.hpp"

namespace seatwright::scan {

enum class On : std::uint8_t { nothing, deck, guide, seat, hole };

struct Shown {
    Point at;  // in the head frame, mm
    On on = On::nothing;
    std::uint8_t which = 0;  // of the scan's valves (guide, seat) or holes
};

// `few`: some of the cloud's points, in its own coordinates.
std::vector<Shown> shown_of(const Points& few, const Scan& scan);

}  // namespace seatwright::scan
