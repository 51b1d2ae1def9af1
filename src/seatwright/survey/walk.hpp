// The walk of a survey: which reading a person is asked for next at the machine, and all that follow as far
// as they are known, so that a page can go on with them while nothing can be worked out.
//
// First the deck, two holes and the leans of the guides (setup L, the deck nearly level), since without them
// the readings leave everything open and nothing can be weighed; then what the readings so far ask for
// (missing.hpp), each tilt with all that is read in it; last the calipers.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/survey/ask.hpp"
#include "seatwright/survey/asked.hpp"
#include "seatwright/words/part.hpp"

namespace seatwright::survey {

inline constexpr const char* level_setup = "L";

// What was said beside the readings.
struct Said {
    struct Set {
        std::string setup;
        std::optional<double> tilt, swing;  // as the sensor had them
        std::string by{};                   // the guide whose pilot stood plumb; empty: nobody said
    };
    std::vector<std::string> guides;    // of the head, cylinder by cylinder
    std::vector<Set> setups;            // begun, in that order
    std::vector<std::string> left_out;  // asks that will not be answered, as key_of has them
    bool end = false;                   // at which end the first cylinder lies
};

struct Step {
    Ask ask;
    Sentence sentence;  // what to do and what to type
    Sentence why;       // what it brings
    double help = 0;    // as Missing has it; 0 where nothing was weighed
};

// "guide level/L/1I/incline": the same for the same reading.
std::string key_of(const Ask& ask);

// `found`: what the readings come to, null while they come to nothing. In the order to be read.
std::vector<Step> walk(const Said& said, const Readings& readings, const Asked* found);

// Names of the guides of a head of that many cylinders and valves, cylinder by cylinder: 1I, 1E, 2I, … or
// 1Ia, 1Ib, 1Ea, ….
std::vector<std::string> guide_names(int cylinders, int intakes, int exhausts);

}  // namespace seatwright::survey
