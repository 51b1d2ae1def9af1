// One connection from its first byte to its last: heads within their bounds and time, bodies within theirs,
// answers made on workers, pieces of answers without an end. Everything runs on the wire's own thread, but
// what is said to run on a worker.
#pragma once

#include <atomic>
#include <condition_variable>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "server/http/guests.hpp"
#include "server/http/request_head.hpp"
#include "server/http/web_server.hpp"
#include "server/http/wire.hpp"
#include "server/http/worker_pool.hpp"

namespace seatwright::server {

// What the connections of a server share.
struct House {
    explicit House(WebOptions given) : options(std::move(given)), guests(options.guests) {}
    WebOptions options;
    Guests guests;
    WorkerPool workers{GuestLimits{}.all};
    std::atomic<std::size_t> bodies{0};  // bytes of bodies on their way in
    std::atomic<bool> stopping{false};

    void count(int more) {
        const std::lock_guard lock(mutex);
        there += more;
        if (there == 0) empty.notify_all();
    }
    // Until no connection is left.
    void wait_until_empty() {
        std::unique_lock lock(mutex);
        empty.wait(lock, [this] { return there == 0; });
    }

    std::mutex mutex;
    std::condition_variable empty;
    int there = 0;
};

class Connection : public std::enable_shared_from_this<Connection> {
  public:
    Connection(House& house, std::unique_ptr<Wire> wire) : house_(house), wire_(std::move(wire)) {
        house_.count(1);
    }
    ~Connection() { house_.count(-1); }
    Connection(const Connection&) = delete;
    Connection& operator=(const Connection&) = delete;

    // From any thread: takes its place, then serves until it ends. False: there is no place for it.
    bool begin();
    // From any thread: no further request.
    void stop() { tell(weak_from_this(), &Connection::wind_up); }

  private:
    enum class Phase { handshake, head, hearing, body, working, writing, live, leaving, over };
    using Clock = Wire::Clock;

    // The room a body takes while it comes in.
    struct BodyRoom {
        BodyRoom(std::atomic<std::size_t>& all, std::size_t size)
            : all_(all), size_(size), full(all.fetch_add(size) + size > most_bodies) {}
        ~BodyRoom() { all_ -= size_; }
        BodyRoom(const BodyRoom&) = delete;
        BodyRoom& operator=(const BodyRoom&) = delete;

      private:
        std::atomic<std::size_t>& all_;
        std::size_t size_;

      public:
        const bool full;
    };

    static void tell(const std::weak_ptr<Connection>& whom, void (Connection::*what)());
    void alarm_at(Clock::time_point when);
    void late();
    void end();
    void wind_up();
    void go_on();
    void read_more();
    void asker_went();
    // The request.
    ConnectionTimes::Span idle() const;
    void wait_for_head();
    void take_head();
    void take_body();
    void take_from_ahead();
    bool has_body() const { return to_come_ > 0 || !asked_->body.empty(); }
    static void hear(std::shared_ptr<Connection> me);    // on a worker
    static void answer(std::shared_ptr<Connection> me);  // on a worker
    void heard(Heard heard);
    void begin_body();
    // The answer.
    void turn_away(int status, const std::string& sentence);
    void write(Response answer);
    void write_piece(std::string_view first);
    void written();
    void leave();
    // The answer without an end.
    void begin_live();
    void live_woken();
    void tell_live();
    void tell_text(const std::string& text);
    void look_after_live();
    void end_live();

    House& house_;
    std::unique_ptr<Wire> wire_;
    std::optional<Guests::Guest> guest_;
    Phase phase_ = Phase::handshake;
    Clock::time_point deadline_;
    std::string address_;
    std::shared_ptr<std::atomic<bool>> gone_ = std::make_shared<std::atomic<bool>>(false);
    bool reading_ = false;
    bool ended_ = false;        // the other side's half is
    std::vector<char> coming_;  // read into
    std::string ahead_;         // read, not yet taken

    RequestHeadReader head_;
    std::shared_ptr<Request> asked_;
    bool known_ = false;                                    // who asked last is logged in
    bool keep_alive_ = true, old_ = false, waits_ = false;  // as of ParsedHead
    unsigned long long to_come_ = 0;                        // bytes of body
    std::unique_ptr<BodyRoom> room_;
    Heard heard_;
    std::optional<Response> refused_;

    Response answer_;
    bool last_ = false;
    std::string head_text_;
    std::string_view left_;  // of the answer's body
    std::shared_ptr<Live> live_;
    bool woken_ = false;  // there is something to tell, or it is over
    bool telling_ = false;
    std::string told_;
    Clock::time_point told_at_, told_until_, sign_at_;
};

// A whole head, read by the HTTP library (web_server.cpp); nothing if it is none.
struct ParsedHead {
    Request request;
    bool keep_alive = true;
    bool old = false;    // HTTP/1.0
    bool waits = false;  // for "100 Continue" before it sends its body
};
std::optional<ParsedHead> parsed_head(const std::string& text);
// "Not Found".
std::string_view reason_of(int status);

}  // namespace seatwright::server
