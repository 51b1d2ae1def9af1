// An interpreter of the part of RS-274/NGC that a seat program may use: it turns a program's text into the
// steps a machine would make, knowing nothing of what was intended.
//
// Understood: G0 G1 G4 G17-G19 G20 G21 G40 G43 G49 G54-G59 G80 G82 G90 G91 G93 G94 G98 G99, M0 M2 M3 M4 M5 M6
// M30, and the letters F H N P R S T X Y Z, each by NISTIR 6556: modal groups, one word of a group a line, a
// letter once a line, the fixed order of execution. A line that holds the shelf's own words for the way to
// the top, the float, a cutter change or the end, and nothing else, is that event. Everything else is refused
// with its line. Positions mm, feeds mm/s, times s.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <tl/expected.hpp>
#include <vector>

#include "seatwright/job/shop.hpp"

namespace seatwright::cut {

// Where the tool is in program coordinates: unknown until an axis was first commanded, Z also after the way
// to the top and a change of length offset.
struct Position {
    std::optional<double> x, y, z;
    bool operator==(const Position&) const = default;
};

enum class Spindle { off, clockwise, counterclockwise };

// Modal state; 0 = not stated by the program yet.
struct Modes {
    int plane = 0;                     // 17, 18, 19
    int units = 0;                     // 20, 21
    int distance = 0;                  // 90, 91
    int feed_mode = 0;                 // 93, 94
    int offset = 0;                    // 54 … 59
    std::optional<int> length_offset;  // none = not stated, 0 = G49, else the H of G43
    Spindle spindle = Spindle::off;
    double rpm = 0;   // S word
    double feed = 0;  // F word, mm/s
    int tool = 0;     // in the spindle
    bool operator==(const Modes&) const = default;
};

// `control`: one of the shelf's own words; `stop`: M0.
enum class StepKind { rapid, feed, dwell, tool_change, spindle, comment, stop, control, end };

enum class ControlEvent { top, float_free, float_lock, float_centre };

struct Step {
    StepKind kind = StepKind::rapid;
    int line = 0;  // in the text, from 1
    Position from, to;
    Modes modes;                             // while this step is made
    double seconds = 0;                      // of a dwell
    std::string comment;                     // of a comment
    ControlEvent event = ControlEvent::top;  // of `control`
};

struct ProgramFault {
    int line = 0;
    std::string text;
};

// `dialect` bears on reading with its dwell unit, its comments and its words; `tool_float` with its words,
// where it is commanded by the control. Words of theirs that no program may carry (job/control_words.hpp) are
// a fault of line 0 naming the key.
tl::expected<std::vector<Step>, ProgramFault> interpret(std::string_view program, const job::Dialect& dialect,
                                                        const std::optional<job::Float>& tool_float = {});

}  // namespace seatwright::cut
