// What the points of a file show, before it is said which of its ends is the front: told anew when that is
// said, without looking at the points again.
#pragma once

#include <memory>
#include <string>
#include <string_view>

#include "seatwright/scan/find.hpp"
#include "seatwright/scan/scan.hpp"

namespace seatwright::scan {

struct Surface {
    std::string file, format;
    LengthUnit units = LengthUnit::mm;  // of the file
    bool unit_told = false;
    double longest = 0;  // side of it, mm
    double points = 0, not_numbers = 0, repeated = 0;
    Found found;
    Points few;  // of them, in the cloud's own coordinates, to be shown: half of them off the deck at least
};

// Points kept of a surface to be shown.
inline constexpr std::size_t most_shown = 160'000;

// Errors as of scan_of. Throws what the watch throws. `shown`: how many points are kept.
Checked<Surface> surface_of(const Cloud& cloud, const std::string& file, std::optional<LengthUnit> units,
                            std::size_t shown, const Watch& watch);
Checked<Surface> surface_of(std::string_view bytes, const std::string& file, std::optional<LengthUnit> units,
                            std::size_t shown, const Watch& watch);

Checked<Scan> scan_of(const Surface& surface, const Told& told);

}  // namespace seatwright::scan
