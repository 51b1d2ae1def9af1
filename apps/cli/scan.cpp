// The scan command: a measured surface in, a job file, a picture and what it stands on out.
#include <fmt/format.h>

#include <chrono>
#include <cstdio>

#include "cli/commands.hpp"
#include "cli/load.hpp"
#include "cli/made_job.hpp"
#include "cli/own_file.hpp"
#include "seatwright/base/progress_line.hpp"
#include "seatwright/brought/draw_scan.hpp"
#include "seatwright/scan/job_text.hpp"
#include "seatwright/scan/mapped.hpp"
#include "seatwright/scan/surface.hpp"

namespace seatwright::cli {

namespace {

// False: the reason was told.
bool draw(const Asked& asked, const scan::Surface& surface, const scan::Scan& found) {
    const LengthUnit unit = asked.scanned.units.value_or(found.units);
    const auto points = scan::shown_of(surface.few, found);
    tl::expected<std::string, std::string> drawn;
    if (asked.picture.ends_with(".svg"))
        drawn = brought::draw_scan(found, points, {.unit = unit}).document();
    else
        drawn =
            papers::pdf_of(brought::scan_pages(found, points, asked.paper, {unit}), asked.paper, found.title);
    tl::expected<void, std::string> done;
    if (drawn)
        done = write_own_file(asked.picture, *drawn, asked.replace ? Over::anything : Over::own);
    else
        done = tl::unexpected(drawn.error());
    if (!done) fmt::print(stderr, "--picture: {} {}\n", asked.picture, done.error());
    return done.has_value();
}

}  // namespace

int scan(const Asked& asked) {
    const auto began = std::chrono::steady_clock::now();
    const auto file = scan::Mapped::of(asked.job);
    if (!file) {
        print_faults({{asked.job, 0, "", file.error()}});
        return exit_input;
    }
    ProgressLine line(words_of(scan::Step::reading));
    const auto surface = scan::surface_of(
        file->bytes(), asked.job, asked.scanned.units, asked.picture.empty() ? 0 : scan::most_shown,
        [&](scan::Step step, double part) { line.at(words_of(step), part); });
    line.over();
    if (!surface) {
        print_faults(surface.error());
        return exit_input;
    }
    auto found = scan::scan_of(*surface, asked.scanned);
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
    if (!asked.picture.empty() && !draw(asked, *surface, *found)) return exit_input;
    say_made_job(asked, found->title, *found, over, found->units, asked.scanned.units.value_or(found->units),
                 job.has_value());
    return blocked(*found) || !job ? exit_stopped : exit_done;
}

}  // namespace seatwright::cli
