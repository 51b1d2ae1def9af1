// What a stage has to say beside its numbers: warnings and assumptions.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/words/held_back.hpp"
#include "seatwright/words/part.hpp"

namespace seatwright {

enum class Severity {
    note,     // worth reading; the plan stands
    blocking  // the plan cannot be carried out as asked, or a verdict is fail: exit status 3
};

struct Warning {
    std::string stage;                 // "hold", "find", "shape", "cut", "prove"
    std::string code;                  // short, stable, lower case with hyphens: "plumb-limit"
    std::optional<std::string> valve;  // the valve it concerns, if one
    Sentence text;                     // what, how much, what to do
    Severity severity = Severity::note;
};

// What every stage result carries beside its numbers.
struct Notices {
    std::vector<Warning> warnings;
    std::vector<Sentence> assumptions;  // "assumes …"
    std::vector<HeldBack> held_back;    // gathered by cut, which leaves them out of its programs
};

}  // namespace seatwright
