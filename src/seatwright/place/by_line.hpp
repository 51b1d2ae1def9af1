// A program over a serial line into the memory of a control that waits to receive it: the whole file, at the
// speed the control takes it. It is never run while it is sent: nobody is told to start before the last byte
// is out, and what did not end whole is said to have to be deleted.
#pragma once

#include <functional>
#include <string>

#include "seatwright/place/line.hpp"
#include "seatwright/words/part.hpp"

namespace seatwright::place {

struct LineWays {
    Handshake handshake = Handshake::none;
    bool wait_for_go = false;   // begin only when the control has sent DC1
    bool crlf = true;           // lines end in CR LF on the wire
    Wait held_at_most{60'000};  // without taking a byte
    Wait quiet{3'000};          // so long without a byte, a file the control sends out has ended
};

struct LineSending {
    std::size_t bytes = 0;  // that went out
    bool whole = false;     // every byte, and the line has none left
    Sentence stopped;       // why it was not whole
};

// Asked between pieces: true ends the sending, which is then not whole.
using Ended = std::function<bool()>;

LineSending send(Line& line, const std::string& program, const LineWays& ways, const Ended& ended);

struct ReadBack {
    bool agrees = false;
    bool came = false;  // a text that ended; else nothing is known of what the control holds
    Sentence words;     // "line 12 came back as …", or why nothing came
};

// The control sends the program out again, and it is held against what was sent: by the SHA-256 of its lines,
// without what a line adds to them (CR, NUL, DC1 to DC4, empty lines at both ends).
ReadBack read_back(Line& line, const std::string& program, const LineWays& ways, const Ended& ended);

}  // namespace seatwright::place
