// Server-sent events: what changes is told to every open page at once.
#include "server/answers/store_json.hpp"
#include "server/routes/routes.hpp"

namespace seatwright::server {

namespace {

using store::Role;

// Between two signs of life: short enough for proxies, and for a closed page to be noticed.
constexpr double heartbeat_seconds = 10;

void listen(Call& call, Workbench& bench, long long job) {
    auto subscriber =
        bench.events.subscribe(job, call.request().get_header_value("Last-Event-ID"), call.person().id);
    if (!subscriber)
        throw http_error(503, "too many pages are listening; this one asks now and then instead");
    const std::string token = call.login->token;
    auto first = std::make_shared<bool>(true);
    call.response().set_header("X-Accel-Buffering", "no");
    call.response().set_chunked_content_provider(
        "text/event-stream",
        [&bench, subscriber, token, first](std::size_t, httplib::DataSink& sink) {
            if (*first) {
                *first = false;
                static const std::string hello = "retry: 2000\n\n";
                return sink.write(hello.data(), hello.size());
            }
            const auto text = subscriber->wait(heartbeat_seconds);
            // Over: the server stops, or the person has logged out meanwhile.
            if (!text || !bench.people.still_in(token)) {
                sink.done();
                return false;
            }
            const std::string out = text->empty() ? ": still here\n\n" : *text;
            return sink.write(out.data(), out.size());
        },
        [&bench, subscriber](bool) { bench.events.unsubscribe(subscriber); });
}

}  // namespace

void add_event_routes(Router& router, Workbench& bench) {
    router.add({"GET", "/api/jobs/{id}/events", Role::reader, [&](Call& call) {
                    const long long job = call.number(1);
                    found(bench.jobs.row(job), "job");
                    listen(call, bench, job);
                }});
    router.add({"GET", "/api/events", Role::reader, [&](Call& call) { listen(call, bench, 0); }});
}

}  // namespace seatwright::server
