// Debian's general-purpose stand-alone RS-274/NGC interpreter, run on a program: what it understands, as
// canonical calls. scripts/fetch_rs274 brings it; SEATWRIGHT_RS274 names its folder (default
// build/outside/rs274). It serves as an outside reading of the open language, nothing else.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

namespace seatwright::outside {

struct Call {
    std::string name;            // "STRAIGHT_FEED"
    std::array<double, 3> at{};  // first three numbers
    std::string words;           // inside the brackets
};

// Folder of the interpreter, if there is one.
std::optional<std::string> interpreter();

// Calls from the program's first block to its end; an empty list and `fault` when it was refused. Axis words
// are handed over a thousandfold, as expressions, since it prints four decimals only: positions come back in
// thousandths of the program's unit.
struct Reading {
    std::vector<Call> calls;
    std::string fault;
};
Reading read(const std::string& folder, const std::string& program);

}  // namespace seatwright::outside
