// The Shelf, what figures can be, the Ledger, and long tasks.
#include <algorithm>
#include <map>

#include "seatwright/report/keys_json.hpp"
#include "seatwright/store/toml_json.hpp"
#include "server/answers/job_card.hpp"
#include "server/answers/store_json.hpp"
#include "server/intake/edits.hpp"
#include "server/intake/shop_check.hpp"
#include "server/routes/routes.hpp"

namespace seatwright::server {

namespace {

using store::Role;

Json shelf_json(const store::ShelfVersion& shelf) {
    Json json = to_json(shelf);
    json["text"] = shelf.text;
    json["tables"] = store::tables_of(shelf.text);
    return json;
}

void store_shelf(Call& call, Workbench& bench, long long made_on, const std::string& text,
                 const std::string& what) {
    if (const Faults faults = faults_of_shop(text); !faults.empty())
        throw http_error(400, "the shelf cannot be read: " + to_line(faults.front()), faults);
    const auto next = take(bench.shelf.change(call.person(), made_on, text, what));
    bench.events.publish(0, "shelf", Json{{"version", next.number}}.dump());
    call.answer(200, shelf_json(next));
}

void put_shelf(Call& call, Workbench& bench) {
    const Json body = call.json();
    store_shelf(call, bench, number_field(body, "version"), text_field(body, "text"),
                text_field_if(body, "what").value_or("changed the text"));
}

void edit_shelf(Call& call, Workbench& bench) {
    const Json body = call.json();
    const auto edits = edits_of(body);
    const auto now = bench.shelf.current();
    const long long made_on = number_field(body, "version");
    const std::string text = now.number == made_on ? take(edited(now.text, edits)) : now.text;
    store_shelf(call, bench, made_on, text, text_field_if(body, "what").value_or(said_of(edits)));
}

void show_ledger(Call& call, Workbench& bench) {
    const store::LedgerQuery query{call.query_number("job"), call.query_number("before"),
                                   call.query_number("limit").value_or(100)};
    const auto lines = store::ledger(bench.database, query);
    Json list = Json::array();
    std::map<long long, std::string> titles;
    for (const auto& line : lines)
        if (line.job && titles.count(*line.job) == 0)
            titles[*line.job] = card_json(bench, found(bench.jobs.row(*line.job), "job"), {})["title"];
    for (const auto& line : lines)
        list.push_back({{"id", line.id},
                        {"at", store::iso_time(line.at_ms)},
                        {"by", line.by},
                        {"what", line.what},
                        {"job", line.job ? Json(*line.job) : Json(nullptr)},
                        {"job_title", line.job ? Json(titles[*line.job]) : Json(nullptr)},
                        {"version", line.version ? Json(*line.version) : Json(nullptr)},
                        {"entry", line.entry ? Json(*line.entry) : Json(nullptr)}});
    const bool more =
        !lines.empty() && static_cast<long long>(lines.size()) == std::clamp(query.limit, 1LL, 500LL);
    call.answer(200, {{"lines", std::move(list)}, {"before", more ? Json(lines.back().id) : Json(nullptr)}});
}

}  // namespace

void add_shop_routes(Router& router, Workbench& bench) {
    router.add({"GET", "/api/shelf", Role::reader,
                [&](Call& call) { call.answer(200, shelf_json(bench.shelf.current())); }});
    router.add({"PUT", "/api/shelf", Role::lead, [&](Call& call) { put_shelf(call, bench); }, Body::file});
    router.add({"POST", "/api/shelf/edits", Role::lead, [&](Call& call) { edit_shelf(call, bench); }});
    router.add({"GET", "/api/shelf/versions", Role::reader, [&](Call& call) {
                    Json list = Json::array();
                    for (const auto& version : bench.shelf.versions()) list.push_back(to_json(version));
                    call.answer(200, {{"versions", std::move(list)}});
                }});
    router.add({"GET", "/api/keys", Role::reader, [](Call& call) { call.answer(200, report::keys_json()); }});
    router.add({"GET", "/api/ledger", Role::reader, [&](Call& call) { show_ledger(call, bench); }});
}

void add_task_routes(Router& router, Workbench& bench) {
    router.add({"GET", "/api/tasks/{task}", Role::reader, [&](Call& call) {
                    call.answer(200,
                                to_json(found(bench.tasks.state(call.person().id, call.part(1)), "task")));
                }});
    router.add({"DELETE", "/api/tasks/{task}", Role::reader, [&](Call& call) {
                    call.answer(200,
                                to_json(found(bench.tasks.cancel(call.person().id, call.part(1)), "task")));
                }});
}

}  // namespace seatwright::server
