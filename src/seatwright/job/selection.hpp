// Which part of a head a plan's programs are for; what stays out is not held back.
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace seatwright::job {

enum class Writes {
    what_may_run,
    draft  // the blocked too, first block a halt and program end: for looking and simulation
};

struct Selection {
    std::vector<std::string> only;    // valve ids; empty = all
    std::optional<std::string> from;  // valve at which a blade broke: this one and those after it
    Writes writes = Writes::what_may_run;
    std::string digest;  // of what the plan was given (plan/digest.hpp); on every paper of it
    bool whole() const { return only.empty() && !from; }
};

}  // namespace seatwright::job
