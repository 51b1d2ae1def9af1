#include "server/routes/routes.hpp"

#include "server/routes/castings.hpp"
#include "server/routes/feeds.hpp"
#include "server/routes/forecast.hpp"
#include "server/routes/orders.hpp"
#include "server/routes/places.hpp"
#include "server/routes/scans.hpp"
#include "server/routes/surveys.hpp"

namespace seatwright::server {

void add_all_routes(Router& router, Workbench& bench) {
    add_people_routes(router, bench);
    add_job_routes(router, bench);
    add_order_routes(router, bench);
    add_change_routes(router, bench);
    add_entry_routes(router, bench);
    add_event_routes(router, bench);
    add_result_routes(router, bench);
    add_whatif_routes(router, bench);
    add_forecast_routes(router, bench);
    add_shop_routes(router, bench);
    add_survey_routes(router, bench);
    add_scan_routes(router, bench);
    add_casting_routes(router, bench);
    add_place_routes(router, bench);
    add_feed_routes(router, bench);
    add_task_routes(router, bench);
    add_administration_routes(router, bench);
}

}  // namespace seatwright::server
