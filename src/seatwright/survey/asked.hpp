// A survey with what it asks for, reading by reading.
#pragma once

#include <vector>

#include "seatwright/survey/ask.hpp"
#include "seatwright/survey/survey.hpp"

namespace seatwright::survey {

struct Asked {
    Survey survey;
    std::vector<std::vector<Ask>> asks;  // of survey.missing, one each: its `next`
    std::vector<Ask> ways;               // rows whose sign is to be asked with a picture
    bool turned = false;  // the head lies turned end for end: angles as typed have the other sign
};

// As survey() has it.
Checked<Asked> asked_survey(const Readings& readings);

}  // namespace seatwright::survey
