// Whose jobs are: numbers, customers, serial numbers (store/orders.hpp).
#pragma once

#include "server/http/router.hpp"
#include "server/jobs/workbench.hpp"

namespace seatwright::server {

void add_order_routes(Router& router, Workbench& bench);

}  // namespace seatwright::server
