// A job file becomes a job of the store: read, parted into document and readings, stored whole.
#pragma once

#include <optional>
#include <string>

#include "server/jobs/workbench.hpp"

namespace seatwright::server {

struct JobImport {
    std::string text;                      // a job file, readings included
    std::optional<std::string> shop_text;  // its shop file; none = the shelf
    std::string file = "job";              // its name, for faults
    std::string what;                      // for the Ledger: "from the example wedge"
    bool keep_original = true;
    bool from_outside = false;  // its limits are somebody's, not the program's own examples'
};

// Error: bad with faults; too_large above the job file's guard.
store::Answer<store::JobRow> import_job(Workbench& bench, const store::Person& by, const JobImport& given,
                                        const store::Progress& progress = {});

// A text the size of which takes more than a moment: read as a task.
inline constexpr std::size_t large_text = 256u << 10;

}  // namespace seatwright::server
