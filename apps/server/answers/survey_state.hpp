// A survey as its page shows it: what was read, what it comes to, what to read next.
#pragma once

#include <optional>

#include "seatwright/store/surveys.hpp"
#include "server/jobs/workbench.hpp"

namespace seatwright::server {

Json to_json(const store::SurveyRow& row);
Json to_json(const store::SurveyEntry& entry, bool live);

// All of it, its sentences in `unit` (none: the survey's own); the readings are worked out for it (a few ms).
Json survey_json(Workbench& bench, const store::SurveyRow& row, std::optional<LengthUnit> unit = {});

// The file `seatwright survey` reads.
std::string survey_file(Workbench& bench, const store::SurveyRow& row);

// The text of the job it comes to, machine and fixture of the shelf; `forms`: {intake: {seat_angle,
// seat_width}, …}, what is wanted of seats, in the survey's unit. Throws HttpError 422 where no valve is
// known.
std::string job_of_survey(Workbench& bench, const store::SurveyRow& row, const Json& forms);

}  // namespace seatwright::server
