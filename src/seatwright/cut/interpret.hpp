// An interpreter of the part of RS-274/NGC that a seat program may use: it turns a program's text into the
// steps a machine would make, knowing nothing of what was intended.
//
// Understood: G0 G1 G4 G17-G19 G20 G21 G40 G49 G54-G59 G80 G82 G90 G91 G93 G94 G98 G99, M0 M1 M2 M3 M4 M5 M6
// M30, and the letters F N P R S T X Y Z, each by NISTIR 6556: modal groups, one word of a group a line, a
// letter once a line, the fixed order of execution. Everything else is refused with its line. Positions mm,
// feeds mm/s, times s.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <tl/expected.hpp>
#include <vector>

#include "seatwright/job/shop.hpp"

namespace seatwright::cut {

// Where the tool is: unknown until an axis was first commanded.
struct Position {
    std::optional<double> x, y, z;
    bool operator==(const Position&) const = default;
};

enum class Spindle { off, clockwise, counterclockwise };

// Modal state; 0 = not stated by the program yet.
struct Modes {
    int plane = 0;      // 17, 18, 19
    int units = 0;      // 20, 21
    int distance = 0;   // 90, 91
    int feed_mode = 0;  // 93, 94
    int offset = 0;     // 54 … 59
    Spindle spindle = Spindle::off;
    double rpm = 0;   // S word
    double feed = 0;  // F word, mm/s
    int tool = 0;     // in the spindle
    bool operator==(const Modes&) const = default;
};

enum class StepKind { rapid, feed, dwell, tool_change, spindle, comment, stop, end };

struct Step {
    StepKind kind = StepKind::rapid;
    int line = 0;  // in the text, from 1
    Position from, to;
    Modes modes;          // while this step is made
    double seconds = 0;   // of a dwell
    std::string comment;  // of a comment
};

struct ProgramFault {
    int line = 0;
    std::string text;
};

// How the dialect bears on reading: its dwell unit, its comments, the word that changes the tool.
tl::expected<std::vector<Step>, ProgramFault> interpret(std::string_view program,
                                                        const job::Dialect& dialect);

}  // namespace seatwright::cut
