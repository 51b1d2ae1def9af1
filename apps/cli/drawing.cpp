// The drawing command: a DXF file in, a job file and what it stands on out.
#include <fmt/format.h>

#include <cstdio>
#include <nlohmann/json.hpp>

#include "cli/commands.hpp"
#include "cli/files.hpp"
#include "cli/load.hpp"
#include "cli/made_job.hpp"
#include "cli/say.hpp"
#include "seatwright/drawing/job_text.hpp"
#include "seatwright/job/reader.hpp"
#include "seatwright/report/report.hpp"

namespace seatwright::cli {

int drawing(const Asked& asked) {
    const auto bytes = read_file(asked.job, job::max_file_bytes);
    if (!bytes) {
        print_faults({{asked.job, 0, "", bytes.error()}});
        return exit_input;
    }
    auto found = drawing::drawing_of(*bytes, asked.job, asked.drawn);
    if (!found) {
        print_faults(found.error());
        return exit_input;
    }
    std::optional<survey::LaidOver> over;
    if (!lay_over(asked, drawing::laid(*found), *found, over)) return exit_input;
    if (!write_made_job(asked, drawing::job_text(*found), true)) return exit_input;
    say_made_job(asked, found->title, *found, over, found->units, asked.drawn.units.value_or(found->units),
                 true);
    return blocked(*found) ? exit_stopped : exit_done;
}

}  // namespace seatwright::cli
