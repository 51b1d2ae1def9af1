// Routes of places programs are sent to, beside routes.hpp.
#pragma once

#include "server/http/router.hpp"
#include "server/jobs/workbench.hpp"

namespace seatwright::server {

void add_place_routes(Router& router, Workbench& bench);

}  // namespace seatwright::server
