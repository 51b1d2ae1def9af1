#include "server/routes/orders.hpp"

#include <fmt/format.h>

#include "server/answers/everything.hpp"
#include "server/answers/job_card.hpp"

namespace seatwright::server {

namespace {

using store::Role;

constexpr std::size_t most_serials = 200;

Json to_json(const store::Customer& customer) {
    return {{"id", customer.id}, {"name", customer.name}, {"jobs", customer.jobs}};
}

store::OrderChange change_of(const Json& body) {
    store::OrderChange change;
    change.number = text_field_if(body, "number");
    change.customer = text_field_if(body, "customer");
    const auto serials = body.find("serials");
    if (serials == body.end()) return change;
    if (!serials->is_object() || serials->size() > most_serials)
        throw http_error(
            400, fmt::format("serials is an object, a text for each of at most {} heads", most_serials));
    for (const auto& [head, serial] : serials->items()) {
        if (!serial.is_string()) throw http_error(400, "a serial number is a text");
        change.serials[head] = serial;
    }
    return change;
}

void change_order(Call& call, Workbench& bench) {
    const long long job = call.number(1);
    const auto order = take(bench.orders.change(call.person(), job, change_of(call.json())));
    bench.events.publish(0, "job", Json{{"job", job}}.dump());
    call.answer(200, order_json(order));
}

void give_everything(Call& call, Workbench& bench) {
    std::string bytes;
    everything(bench.database, bench.photographs, call.number(1),
               [&](std::string_view part) { bytes += part; });
    call.response().set_header("Content-Disposition",
                               fmt::format("attachment; filename=\"customer-{}.tar\"", call.number(1)));
    call.answer_text(200, bytes, "application/x-tar");
}

}  // namespace

void add_order_routes(Router& router, Workbench& bench) {
    router.add({"GET", "/api/jobs/{id}/order", Role::reader, [&](Call& call) {
                    found(bench.jobs.row(call.number(1)), "job");
                    call.answer(200, order_json(bench.orders.of(call.number(1))));
                }});
    router.add(
        {"PATCH", "/api/jobs/{id}/order", Role::machinist, [&](Call& call) { change_order(call, bench); }});
    router.add({"GET", "/api/customers", Role::reader, [&](Call& call) {
                    Json list = Json::array();
                    for (const auto& one : bench.orders.customers()) list.push_back(to_json(one));
                    call.answer(200, {{"customers", std::move(list)}});
                }});
    router.add({"PATCH", "/api/customers/{customer}", Role::lead, [&](Call& call) {
                    const auto one = take(
                        bench.orders.rename(call.person(), call.number(1), text_field(call.json(), "name")));
                    bench.events.resync();
                    call.answer(200, to_json(one));
                }});
    router.add({"GET", "/api/customers/{customer}/everything", Role::lead,
                [&](Call& call) { give_everything(call, bench); }});
}

}  // namespace seatwright::server
