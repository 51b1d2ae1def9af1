// The plain-language why behind each number: formula, meaning, source.
#pragma once

#include "seatwright/job/needs.hpp"
#include "server/http/http_error.hpp"

namespace seatwright::server {

// {stage, reasons: [{key, says, formula, source}]}.
Json why_json(job::Stage stage);

}  // namespace seatwright::server
