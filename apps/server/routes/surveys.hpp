// Routes of surveys, beside routes.hpp.
#pragma once

#include "server/http/router.hpp"
#include "server/jobs/workbench.hpp"

namespace seatwright::server {

void add_survey_routes(Router& router, Workbench& bench);

}  // namespace seatwright::server
