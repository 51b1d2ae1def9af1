// The three kinds of error, never mixed:
//  - Fault: the input is wrong. Always a list, all at once, each with place and remedy.
//  - SolverError: a numerical method did not converge. Never carries the last iterate.
//  - require(): an invariant of ours is broken; throws std::logic_error, also in release.
#pragma once

#include <stdexcept>
#include <string>
#include <string_view>
#include <tl/expected.hpp>
#include <vector>

namespace seatwright {

struct Fault {
    std::string file;  // as the person named it; empty if there is none
    int line = 0;      // from 1; 0 = the file as a whole
    std::string key;   // dotted, as in the job file: "head.pattern.valve[1].kind"
    std::string text;  // what is wrong and what would be right
};

using Faults = std::vector<Fault>;

// `file:line: key: text`, leaving out what is not known.
std::string to_line(const Fault& fault);

template <class T>
using Checked = tl::expected<T, Faults>;

struct SolverError {
    std::string method;  // "minimum-zone exchange"
    int iterations = 0;
    double residual = 0;
    std::string text;
};

template <class T>
using Solved = tl::expected<T, SolverError>;

// Throws std::logic_error naming the place when `holds` is false.
// The place is the caller's; the builtins stand in for std::source_location, which clang 14 does not have.
void require(bool holds, std::string_view what, const char* file = __builtin_FILE(),
             int line = __builtin_LINE());

}  // namespace seatwright
