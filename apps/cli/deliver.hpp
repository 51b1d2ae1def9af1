// How a command's answer leaves: JSON or text on standard output, papers in a folder, and the exit status.
#pragma once

#include <functional>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "cli/commands.hpp"
#include "cli/paper_set.hpp"
#include "seatwright/papers/bundle.hpp"
#include "seatwright/plan/run.hpp"
#include "seatwright/report/report.hpp"

namespace seatwright::cli {

// The stages an answer of `last` is made of.
std::vector<job::Stage> stages_up_to(job::Stage last);

// A stage's own keys, and its tables.
struct Told {
    std::function<nlohmann::ordered_json()> json;
    std::function<std::string(const report::TextStyle&)> text;
};
// With the frame: warnings before it, assumptions behind. In the unit asked for, else the job's.
int tell(const job::Job& job, const Notices& notices, const Told& told, const Asked& asked);

// What stands of these stages, and what does not; no paper is written.
int tell_failures(const plan::Run& run, const std::vector<job::Stage>& stages, const Asked& asked);
int say_failures(const plan::Run& run);  // the failures alone, on standard error

// What was replaced in `folder`, or why nothing was.
tl::expected<Replaced, std::string> write_papers(const papers::Bundle& bundle, const char* what,
                                                 const std::string& folder,
                                                 std::optional<FirstSeats> firsts = {});

// Prints the JSON or the text of a bundle and writes its papers if a folder was named.
int deliver(const papers::Bundle& bundle, const char* what, const Asked& asked,
            std::optional<FirstSeats> firsts = {});

}  // namespace seatwright::cli
