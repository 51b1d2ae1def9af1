// From text to checked entries: TOML parser, then the table of keys.
#pragma once

#include <string>
#include <string_view>

#include "seatwright/base/fault.hpp"
#include "seatwright/job/entry.hpp"
#include "seatwright/job/keys.hpp"

namespace seatwright::job {

struct Walked {
    Entry root;
    LengthUnit units = LengthUnit::mm;
    Faults faults;
    bool readable = true;  // false: not TOML at all, the entries are empty
};

enum class FileKind { job, shop };

// Checks a file against the table of keys. `inherited` is the unit of bare lengths in a shop file that does
// not name its own. A job without `units` is at fault and read as mm.
Walked walk_file(std::string_view text, const std::string& file, FileKind kind, LengthUnit inherited);

}  // namespace seatwright::job
