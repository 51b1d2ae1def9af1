// What who looks after the PC wants to know: whether it is up, its data, its backups, who is on, what was
// refused.
#pragma once

#include <string>

#include "server/http/open_pages.hpp"
#include "server/jobs/workbench.hpp"

namespace seatwright::server {

// Whether the data can be read and written just now. Throws what the database does when they cannot.
void check_health(Workbench& bench);

// The answer of GET /api/administration.
Json administration_json(Workbench& bench);

// "/metrics" in the text form of Prometheus (exposition format 0.0.4): Counters, and what the server holds
// now.
OpenPages::Pages metrics_pages(Workbench& bench);

}  // namespace seatwright::server
