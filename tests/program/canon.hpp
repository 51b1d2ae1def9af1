// Programs read by the outside RS-274/NGC interpreter (scripts/fetch_rs274), many in one run, as canonical
// calls a machine could carry out. Axis words are handed over a thousandfold, since it prints four decimals
// only.
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace seatwright::sim {

struct CanonCall {
    std::string name;                // "STRAIGHT_FEED"
    std::string words;               // inside the brackets
    double number(int which) const;  // from 0
};

struct CanonProgram {
    std::vector<CanonCall> calls;
    std::string fault;  // why it was refused
};

// Folder of the interpreter, if it is there.
std::optional<std::string> interpreter_folder();

// Each program's calls, in order. Positions are in thousandths of its unit; the length offset of cutter n is
// n inches.
std::vector<CanonProgram> read_programs(const std::string& folder, const std::vector<std::string>& programs);

}  // namespace seatwright::sim
