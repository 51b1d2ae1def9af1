// What the store knows of a survey, as the readings file `seatwright survey` reads, and back: which line of
// it is whose entry.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "seatwright/store/surveys.hpp"
#include "seatwright/survey/walk.hpp"
#include "server/http/http_error.hpp"

namespace seatwright::server {

struct SurveyText {
    std::string text;
    std::map<std::string, long long> entries;  // "point[3]" → the entry that says it
    Json head;                                 // what was said of the head, the newest of each key
    survey::Said said;
    // The entry a key of the text belongs to: "point[3].x".
    std::optional<long long> entry_of(const std::string& key) const;
};

// Of the entries that count. What was read of the guides as stem lean (head.lean_of = "stem") was read with
// the sensor the other way round: its two readings change places. Where somebody said which way a row leans
// ("way"), its readings, and the tilt (swing) of the setup it stands plumb in, get that sign and are stood
// by. Where somebody said that the readout counts the other way (head.end = "readout") it gets x_sign = -1.
SurveyText survey_text(const store::SurveyRow& row, const std::vector<store::SurveyEntry>& entries);

// The sentence that says why an entry is not fit to be stored beside those that are; nothing if it is.
std::optional<HttpError> fault_of_survey_entry(const store::SurveyRow& row,
                                               std::vector<store::SurveyEntry> entries,
                                               const store::NewSurveyEntry& entry);

}  // namespace seatwright::server
