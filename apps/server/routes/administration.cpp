// Whether it is up, and what who looks after the PC wants to know.
#include "server/answers/administration.hpp"

#include "server/routes/routes.hpp"

namespace seatwright::server {

void add_administration_routes(Router& router, Workbench& bench) {
    // Only up or not, for a program that watches: what is wrong is in the log.
    router.add({"GET", "/health", {}, [&](Call& call) {
                    try {
                        check_health(bench);
                        call.answer(200, {{"up", true}});
                    } catch (const std::exception&) {
                        call.answer(503, {{"up", false}});
                    }
                }});
    router.add({"GET", "/api/administration", store::Role::lead,
                [&](Call& call) { call.answer(200, administration_json(bench)); }});
}

}  // namespace seatwright::server
