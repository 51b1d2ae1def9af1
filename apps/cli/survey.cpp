// The survey command: readings in, a job file and what it stands on out.
#include <fmt/format.h>

#include <cstdio>
#include <filesystem>

#include "cli/commands.hpp"
#include "cli/files.hpp"
#include "cli/load.hpp"
#include "cli/made_job.hpp"
#include "seatwright/base/progress_line.hpp"
#include "seatwright/job/reader.hpp"
#include "seatwright/survey/job_text.hpp"
#include "seatwright/survey/read.hpp"

namespace seatwright::cli {

namespace {

// The shop file is named from where the readings are; the job names it from where the job is.
std::string from_the_job(const std::string& shop, const Asked& asked) {
    namespace fs = std::filesystem;
    if (shop.empty() || fs::path(shop).is_absolute()) return shop;
    std::error_code ec;
    const auto at = fs::weakly_canonical(fs::absolute(fs::path(asked.job).parent_path() / shop, ec), ec);
    const auto folder = fs::weakly_canonical(fs::absolute(asked.out, ec).parent_path(), ec);
    const auto out = at.lexically_relative(folder);
    return out.empty() ? at.string() : out.string();
}

}  // namespace

int survey(const Asked& asked) {
    const auto text = read_file(asked.job, job::max_file_bytes);
    if (!text) {
        print_faults({{asked.job, 0, "", text.error()}});
        return exit_input;
    }
    auto readings = survey::read_readings(*text, asked.job);
    if (!readings) {
        print_faults(readings.error());
        return exit_input;
    }
    readings->shop = from_the_job(readings->shop, asked);
    auto found = with_progress_line("working out the head", [&] { return survey::survey(*readings); });
    if (!found) {
        print_faults(found.error());
        return exit_input;
    }
    std::optional<survey::LaidOver> over;
    if (!lay_over(asked, survey::laid(*found), *found, over)) return exit_input;
    const auto job = survey::job_text(*found);
    if (job) {
        if (!write_made_job(asked, *job, readings->shop.empty())) return exit_input;
    } else {
        fmt::print(stderr,
                   "--out: {} is not written: the readings leave every valve open; a job has at least one\n",
                   asked.out);
    }
    say_made_job(asked, found->readings.title, *found, over, found->readings.units,
                 asked.unit.value_or(found->readings.units), job.has_value());
    return blocked(*found) || !job ? exit_stopped : exit_done;
}

}  // namespace seatwright::cli
