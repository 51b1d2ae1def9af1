// A stage stopped by what is no fault of the job.
#pragma once

#include <string>
#include <vector>

#include "seatwright/job/stage.hpp"
#include "seatwright/words/notice.hpp"

namespace seatwright::plan {

struct Failure {
    job::Stage stage;
    std::string what;  // for whoever repairs the program
    // "an error of the program itself stopped find"
    Sentence words() const;
};

// Blocking: nothing of that stage is known.
Warning warning_of(const Failure& failure);
Notices with(Notices notices, const std::vector<Failure>& failures);

}  // namespace seatwright::plan
