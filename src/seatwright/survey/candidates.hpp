// Readings that could be taken next, as the rows they would be.
#pragma once

#include <vector>

#include "seatwright/survey/ask.hpp"
#include "seatwright/survey/state.hpp"

namespace seatwright::survey {

struct Candidate {
    Sentence what, next;    // as Missing has them
    std::vector<Row> rows;  // their values do not matter
    std::vector<Ask> asks;
};

std::vector<Candidate> candidates_of(const State& state);

// Which way each row leans whose sign does not go with its tilt: asked with a picture.
std::vector<Ask> ways_of(const State& state);

}  // namespace seatwright::survey
