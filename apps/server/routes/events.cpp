// Server-sent events: what changes is told to every open page at once.
#include <fmt/format.h>
#include <spdlog/spdlog.h>

#include "seatwright/store/fault_words.hpp"
#include "server/answers/store_json.hpp"
#include "server/routes/routes.hpp"

namespace seatwright::server {

namespace {

using store::Role;

// One page that listens; it hears no more once its person has logged out.
class Listening : public Live {
  public:
    Listening(Workbench& bench, std::shared_ptr<Subscriber> subscriber)
        : bench_(bench), subscriber_(std::move(subscriber)) {}
    ~Listening() override { bench_.events.unsubscribe(subscriber_); }
    Listening(const Listening&) = delete;
    Listening& operator=(const Listening&) = delete;

    void listen(std::function<void()> wake) override { subscriber_->listen(std::move(wake)); }
    std::optional<std::string> take() override {
        auto text = subscriber_->take();
        if (!text || !first_) return text;
        first_ = false;
        return "retry: 2000\n\n" + *text;
    }
    std::optional<std::string> heartbeat() override {
        try {
            if (!bench_.people.still_in(subscriber_->token())) return std::nullopt;
        } catch (const std::exception& fault) {
            spdlog::error(fmt::format("events: {}", store::words_of(fault)));
            return std::nullopt;
        }
        return ": still here\n\n";
    }

  private:
    Workbench& bench_;
    std::shared_ptr<Subscriber> subscriber_;
    bool first_ = true;
};

void listen_to_job(Call& call, Workbench& bench, long long job) {
    auto subscriber = bench.events.subscribe(job, std::string(call.request().header("Last-Event-ID")),
                                             call.person().id, call.login->token);
    if (!subscriber)
        throw http_error(503, "too many pages are listening; this one asks now and then instead");
    call.response().set_header("X-Accel-Buffering", "no");
    call.response().media = "text/event-stream";
    call.response().live = std::make_shared<Listening>(bench, std::move(subscriber));
}

}  // namespace

void add_event_routes(Router& router, Workbench& bench) {
    router.add({"GET", "/api/jobs/{id}/events", Role::reader, [&](Call& call) {
                    const long long job = call.number(1);
                    found(bench.jobs.row(job), "job");
                    listen_to_job(call, bench, job);
                }});
    router.add({"GET", "/api/events", Role::reader, [&](Call& call) { listen_to_job(call, bench, 0); }});
}

}  // namespace seatwright::server
