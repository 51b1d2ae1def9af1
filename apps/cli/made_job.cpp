#include "cli/made_job.hpp"

#include <cstdio>

#include "cli/load.hpp"
#include "cli/own_file.hpp"
#include "seatwright/base/fault.hpp"
#include "seatwright/job/reader.hpp"
#include "seatwright/words/english_survey.hpp"

namespace seatwright::cli {

bool write_made_job(const Asked& asked, const std::string& job, bool alone) {
    if (const auto made = job::read_job(job, asked.out, {}); !made && alone)
        require(false, "a job made here reads without faults: " + to_line(made.error().front()));
    const auto written = write_own_file(asked.out, job, asked.replace ? Over::anything : Over::own);
    if (!written) fmt::print(stderr, "--out: {} {}\n", asked.out, written.error());
    return written.has_value();
}

bool lay_over(const Asked& asked, const survey::Laid& found, Notices& notices,
              std::optional<survey::LaidOver>& over) {
    if (asked.over.empty()) return true;
    const auto other = load(asked.over);
    if (!other) return false;
    over = survey::lay_over(found, survey::laid(*other));
    if (!over)
        notices.warnings.push_back(
            {"over", "no-common-holes", std::nullopt,
             survey::sentence<"no-common-holes">("other"_is = asked.over, "here"_is = found.bolts.size(),
                                                 "there"_is = other->head.bolt_holes.size()),
             Severity::note});
    return true;
}

}  // namespace seatwright::cli
