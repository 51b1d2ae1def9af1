// Routes of scans, beside routes.hpp.
#pragma once

#include "server/http/router.hpp"
#include "server/jobs/workbench.hpp"

namespace seatwright::server {

void add_scan_routes(Router& router, Workbench& bench);

}  // namespace seatwright::server
