// The scan command: a measured surface in, a job file and what it stands on out.
#include "seatwright/scan/scan.hpp"

#include <fmt/format.h>

#include <chrono>
#include <cstdio>

#include "cli/commands.hpp"
#include "cli/load.hpp"
#include "cli/made_job.hpp"
#include "seatwright/scan/job_text.hpp"
#include "seatwright/scan/mapped.hpp"
#include "server/progress_line.hpp"

namespace seatwright::cli {

int scan(const Asked& asked) {
    const auto began = std::chrono::steady_clock::now();
    const auto file = scan::Mapped::of(asked.job);
    if (!file) {
        print_faults({{asked.job, 0, "", file.error()}});
        return exit_input;
    }
    auto found = server::with_progress_line("looking for the head in the points", [&] {
        return scan::scan_of(file->bytes(), asked.job, asked.scanned);
    });
    if (!found) {
        print_faults(found.error());
        return exit_input;
    }
    found->seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - began).count();
    std::optional<survey::LaidOver> over;
    if (!lay_over(asked, scan::laid(*found), *found, over)) return exit_input;
    const auto job = scan::job_text(*found);
    if (job) {
        if (!write_made_job(asked, *job, true)) return exit_input;
    } else {
        fmt::print(stderr,
                   "--out: {} is not written: no guide is seen well enough; a job has at least one valve\n",
                   asked.out);
    }
    say_made_job(asked, found->title, *found, over, found->units, asked.scanned.units.value_or(found->units),
                 job.has_value());
    return blocked(*found) || !job ? exit_stopped : exit_done;
}

}  // namespace seatwright::cli
