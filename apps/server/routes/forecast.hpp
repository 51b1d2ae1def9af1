// The routes of the Forecast page.
#pragma once

#include "server/http/router.hpp"
#include "server/jobs/workbench.hpp"

namespace seatwright::server {

void add_forecast_routes(Router& router, Workbench& bench);

}  // namespace seatwright::server
