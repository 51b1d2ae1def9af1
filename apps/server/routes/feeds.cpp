// Feeds: set up by a lead with what the source sends being shown; a page asks what stands and what is
// offered.
#include "server/routes/feeds.hpp"

#include <memory>

#include "server/feeds/hub.hpp"

namespace seatwright::server {

namespace {

using store::Role;

Json feed_json(const store::FeedRow& row) {
    return {{"id", row.id},
            {"version", row.version},
            {"name", row.name},
            {"settings", Json::parse(row.settings)}};
}

store::NewFeed feed_in(const Json& body) {
    const std::string name = text_field(body, "name");
    return {name, to_json(feed_of(body, name)).dump()};
}

void feeds_changed(Workbench& bench, Hub& hub) {
    hub.follow_what_is_set_up();
    bench.events.publish(0, "feeds", "{}");
}

// Who tries a source waits for it, and so does whoever tries another.
void try_source(Call& call, Busy& trying) {
    constexpr std::chrono::milliseconds wait{2500};
    const auto source = source_of(call.json());
    const auto turn = trying.take(1);
    if (!turn) throw http_error(409, "somebody tries a source just now: wait a moment");
    call.answer(200, tried(source, wait, call.speech()));
}

}  // namespace

void add_feed_routes(Router& router, Workbench& bench) {
    // Lives as long as the routes do.
    const auto hub = std::make_shared<Hub>(bench.database);
    const auto trying = std::make_shared<Busy>();
    hub->follow_what_is_set_up();
    router.add({"GET", "/api/feeds", Role::reader, [&](Call& call) {
                    Json all = Json::array();
                    for (const auto& row : store::Feeds(bench.database).rows()) all.push_back(feed_json(row));
                    call.answer(200, {{"feeds", std::move(all)}});
                }});
    router.add({"POST", "/api/feeds", Role::lead, [&bench, hub](Call& call) {
                    const auto row =
                        take(store::Feeds(bench.database).make(call.person(), feed_in(call.json())));
                    feeds_changed(bench, *hub);
                    call.answer(201, feed_json(row));
                }});
    router.add({"POST", "/api/feeds/try", Role::lead, [trying](Call& call) { try_source(call, *trying); }});
    router.add({"PUT", "/api/feeds/{feed}", Role::lead, [&bench, hub](Call& call) {
                    const Json body = call.json();
                    const auto row = take(store::Feeds(bench.database)
                                              .change(call.person(), call.number(1),
                                                      number_field(body, "version"), feed_in(body)));
                    feeds_changed(bench, *hub);
                    call.answer(200, feed_json(row));
                }});
    router.add({"DELETE", "/api/feeds/{feed}", Role::lead, [&bench, hub](Call& call) {
                    take(store::Feeds(bench.database).put_away(call.person(), call.number(1)));
                    feeds_changed(bench, *hub);
                    call.answer_nothing();
                }});
    router.add({"GET", "/api/feeds/{feed}/now", Role::reader,
                [hub](Call& call) { call.answer(200, hub->now(call.number(1), call.speech())); }});
    router.add({"POST", "/api/feeds/{feed}/take", Role::machinist,
                [hub](Call& call) { call.answer(200, hub->take(call.number(1), call.speech())); }});
}

}  // namespace seatwright::server
