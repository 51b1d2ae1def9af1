// The routes, a file each group; together they are docs/api/openapi.json (a test holds both against each
// other).
#pragma once

#include "server/http/router.hpp"
#include "server/jobs/workbench.hpp"

namespace seatwright::server {

// All of them.
void add_all_routes(Router& router, Workbench& bench);

void add_people_routes(Router& router, Workbench& bench);
void add_job_routes(Router& router, Workbench& bench);
void add_change_routes(Router& router, Workbench& bench);
void add_entry_routes(Router& router, Workbench& bench);
void add_event_routes(Router& router, Workbench& bench);
void add_result_routes(Router& router, Workbench& bench);
void add_whatif_routes(Router& router, Workbench& bench);
void add_shop_routes(Router& router, Workbench& bench);
void add_task_routes(Router& router, Workbench& bench);
void add_administration_routes(Router& router, Workbench& bench);

}  // namespace seatwright::server
