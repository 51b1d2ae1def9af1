// What a job and its records have taught of the casting, as the text of a casting's file (job/casting.hpp
// reads it): the description with what is said beside its figures, how earlier heads' guides stood off it,
// what cut seats that passed, depths and times. docs/castings.md is the manual.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "seatwright/base/fault.hpp"
#include "seatwright/plan/run.hpp"

namespace seatwright::casting {

// How long a head of the job took.
struct HeadTime {
    std::string head;
    double seconds = 0;
};

// The texts the description is taken from: of the job, and of the casting's file it names (empty: none).
struct Texts {
    std::string job, casting;
    std::string casting_file;       // for faults
    std::vector<HeadTime> times{};  // where the job's entries tell them
};

struct Exported {
    std::string text;
    std::string records, description;  // the text's two parts, a line between them
    std::string as_known;              // the description as the casting's file alone has it
    std::string name;
    std::size_t heads = 0;   // that taught, setup by setup counted once
    std::size_t seats = 0;   // that passed
    std::size_t depths = 0;  // known by stem heights before and after
    std::size_t times = 0;   // heads of which it is known how long they took
};

// `run` is of the same job, all heads. Hold must have a result; of find, cut and prove what there is is
// taken. The text is in the job's unit and reads without faults. `planned`: of the same job, whose plan cut
// the seats that passed; null: `run`. Error: faults of the texts.
Checked<Exported> exported(plan::Run& run, const Texts& texts, plan::Run* planned = nullptr);

}  // namespace seatwright::casting
