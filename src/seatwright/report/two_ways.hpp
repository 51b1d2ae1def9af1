// The two ways on after a first seat that the plan does not bear, side by side, for text and paper.
#pragma once

#include <string>
#include <vector>

#include "seatwright/report/report.hpp"

namespace seatwright::report {

// One seat: its depth (a dash where its old seat was not read, "INSERT") both ways.
struct TwoWaysRow {
    std::string id, shifted, anew;
    bool cut = false;  // the first seat itself, as measured
};
std::vector<TwoWaysRow> two_ways_rows(const job::Job& job, const shape::PlanAnew& ways, LengthUnit unit);

// What each comes to: "shifted: all depths 1.1800 mm; breaks: …", "anew: …"; and, once somebody chose, which.
std::vector<Sentence> two_ways_words(const shape::PlanAnew& ways);

// The same with every seat, for a terminal.
std::string two_ways_text(const job::Job& job, const shape::PlanAnew& ways, const TextStyle& style);

inline constexpr const char* two_ways_heading = "After the first seat: depths as planned, or made anew";

// "shifted", "anew"; empty while nobody has chosen.
std::string word_of(job::AfterFirst chosen);

}  // namespace seatwright::report
