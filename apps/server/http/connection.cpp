#include "server/http/connection.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "server/http/http_error.hpp"

namespace seatwright::server {

namespace {

constexpr std::size_t one_reading = 16u << 10;  // bytes
constexpr std::size_t one_writing = 64u << 10;
constexpr auto longest_farewell = std::chrono::seconds(1);

Response refusal_of(int status, const std::string& sentence, bool last) {
    Response response;
    refuse(response, http_error(status, sentence));
    response.last = last;
    return response;
}

std::string sentence_of(const HttpError& error) {
    return error.body.value("error", std::string());
}

bool has_no_body(int status) {
    return status == 204 || status == 304;
}

// The head of an answer to `asked`. `chunked`: its length is not known. `kept`: how long the connection is
// kept for a next request; none: it is the last.
std::string head_of(const Response& answer, const Request& asked, const Fields& of_every, bool chunked,
                    std::optional<std::chrono::milliseconds> kept) {
    std::string text = fmt::format("HTTP/1.1 {} {}\r\n", answer.status, reason_of(answer.status));
    const auto add = [&](std::string_view name, std::string_view value) {
        // Nothing that would begin a line of its own.
        if (value.find_first_of(std::string_view("\r\n\0", 3)) == std::string_view::npos)
            text.append(name).append(": ").append(value).append("\r\n");
    };
    Response all;
    all.headers = of_every;
    for (const auto& [name, value] : answer.headers) all.set_header(name, value);
    // Under this name other programs of the machine are reached, too, by http.
    const bool by_that_name = asked.header("Host").starts_with("localhost");
    for (const auto& [name, value] : all.headers)
        if (!by_that_name || name != "Strict-Transport-Security") add(name, value);
    if (!answer.media.empty()) add("Content-Type", answer.media);
    if (chunked)
        add("Transfer-Encoding", "chunked");
    else if (!answer.live && !has_no_body(answer.status))
        add("Content-Length", std::to_string(answer.body().size()));
    add("Connection", kept ? "keep-alive" : "close");
    if (kept) add("Keep-Alive", fmt::format("timeout={}", kept->count() / 1000));
    return text + "\r\n";
}

}  // namespace

bool Connection::begin() {
    address_ = wire_->address();
    guest_.emplace(house_.guests.enter(house_.options.behind_proxy ? std::string() : address_,
                                       [me = weak_from_this()] { tell(me, &Connection::end); }));
    if (!*guest_) return false;
    wire_->post([me = shared_from_this()] {
        me->alarm_at(Clock::now() + me->house_.options.times.head);
        me->wire_->greet([me](bool good) { return good ? me->wait_for_head() : me->end(); });
    });
    return true;
}

void Connection::tell(const std::weak_ptr<Connection>& whom, void (Connection::*what)()) {
    auto me = whom.lock();
    if (!me) return;
    // Goes with what is posted: here the last one to hold it would end it under whatever lock the caller has.
    Wire& wire = *me->wire_;
    wire.post([me = std::move(me), what] { ((*me).*what)(); });
}

void Connection::alarm_at(Clock::time_point when) {
    deadline_ = when;
    wire_->wake_at(when, [me = weak_from_this()] {
        if (const auto here = me.lock()) here->late();
    });
}

void Connection::late() {
    switch (phase_) {
        case Phase::head:
            return head_.begun() ? turn_away(408, "the request did not come to its end in time") : end();
        case Phase::body:
            return turn_away(408, "the request did not come to its end in time");
        case Phase::live:
            if (Clock::now() >= sign_at_) return look_after_live();
            alarm_at(sign_at_);
            return tell_live();
        case Phase::hearing:
        case Phase::working:
            return;
        default:
            return end();
    }
}

void Connection::end() {
    if (phase_ == Phase::over) return;
    phase_ = Phase::over;
    *gone_ = true;
    live_.reset();
    wire_->close();
}

void Connection::wind_up() {
    if (phase_ == Phase::handshake || phase_ == Phase::head) end();
}

void Connection::go_on() {
    if (phase_ == Phase::head) take_head();
    if (phase_ == Phase::body) take_body();
    read_more();
}

// Reads whenever there is room, also while an answer is being made: so it is noticed when the asker goes.
void Connection::read_more() {
    if (reading_ || ended_ || phase_ == Phase::leaving || phase_ == Phase::over) return;
    if (ahead_.size() >= one_reading) return;
    coming_.resize(one_reading);
    reading_ = true;
    wire_->read(coming_, [me = shared_from_this()](bool good, std::size_t count) {
        me->reading_ = false;
        if (me->phase_ == Phase::leaving || me->phase_ == Phase::over) return;
        if (!good) {
            me->ended_ = true;
            *me->gone_ = true;
            return me->asker_went();
        }
        if (me->phase_ != Phase::live) me->ahead_.append(me->coming_.data(), count);
        me->go_on();
    });
}

// An answer under way is made and written all the same: only the asker's half may be closed.
void Connection::asker_went() {
    if (phase_ != Phase::hearing && phase_ != Phase::working && phase_ != Phase::writing) end();
}

ConnectionTimes::Span Connection::idle() const {
    return known_ ? house_.options.times.idle : house_.options.times.idle_stranger;
}

void Connection::wait_for_head() {
    if (phase_ == Phase::over) return;
    if (house_.stopping || (ended_ && ahead_.empty())) return end();
    phase_ = Phase::head;
    head_ = {};
    asked_.reset();
    refused_.reset();
    alarm_at(Clock::now() + idle());
    go_on();
}

void Connection::take_head() {
    const bool begun = head_.begun();
    ahead_.erase(0, head_.take(ahead_));
    if (const auto& refused = head_.refused()) return turn_away(refused->status, sentence_of(*refused));
    if (!head_.whole()) {
        if (ended_) return end();
        if (!begun && head_.begun()) alarm_at(Clock::now() + house_.options.times.head);
        return;
    }
    const auto length = judged(head_.text());
    if (!length) return turn_away(length.error().status, sentence_of(length.error()));
    auto head = parsed_head(head_.text());
    if (!head) return turn_away(400, "the request cannot be read");
    asked_ = std::make_shared<Request>(std::move(head->request));
    asked_->address = address_;
    asked_->asker_there = [gone = gone_] { return !*gone; };
    keep_alive_ = head->keep_alive;
    old_ = head->old;
    waits_ = head->waits;
    to_come_ = *length;
    if (to_come_ <= ahead_.size()) take_from_ahead();
    phase_ = Phase::hearing;
    // Counts from here, also while it is being decided whether the body is wanted.
    deadline_ = Clock::now() + house_.options.times.body;
    house_.workers.add([me = shared_from_this()]() mutable { hear(std::move(me)); });
}

void Connection::take_from_ahead() {
    const auto count = static_cast<std::size_t>(std::min<unsigned long long>(to_come_, ahead_.size()));
    if (!refused_) asked_->body.append(ahead_, 0, count);
    ahead_.erase(0, count);
    to_come_ -= count;
}

// Who asks, whether there is room for them, what becomes of it; and the answer, if all of the body is here.
void Connection::hear(std::shared_ptr<Connection> me) {
    const WebOptions& options = me->house_.options;
    const Request& asked = *me->asked_;
    const Asker asker = options.asker ? options.asker(asked) : Asker{asked.address, false};
    me->known_ = asker.logged_in;
    Heard heard;
    if (me->guest_->asks(asker.address, asker.logged_in))
        heard = options.hear(asked);
    else
        heard.refused = refusal_of(503, "too many who are not logged in ask at once; try again", true);
    if (!heard.refused && me->has_body() && asked.body.size() + me->to_come_ > heard.most_body)
        heard.refused =
            refusal_of(413, fmt::format("too large: at most {} MiB", heard.most_body >> 20), false);
    std::optional<Response> answer;
    if (me->to_come_ == 0) answer = heard.refused ? std::move(*heard.refused) : heard.answer(asked);
    Wire& wire = *me->wire_;
    wire.post([me = std::move(me), heard = std::move(heard), answer = std::move(answer)]() mutable {
        if (me->phase_ == Phase::over) return;
        if (answer) return me->write(std::move(*answer));
        me->heard(std::move(heard));
    });
}

void Connection::heard(Heard heard) {
    refused_ = std::move(heard.refused);
    heard_ = std::move(heard);
    if (!refused_) {
        room_ = std::make_unique<BodyRoom>(house_.bodies, static_cast<std::size_t>(to_come_));
        if (room_->full)
            refused_ = refusal_of(503, "too much is being sent at once; try again in a moment", false);
    }
    // What is refused before it was sent, or is larger than anything, is not waited for.
    if (refused_ && (refused_->last || waits_ || to_come_ > most_read_away)) {
        refused_->last = true;
        return write(std::move(*refused_));
    }
    if (!waits_ || !ahead_.empty()) return begin_body();
    alarm_at(Clock::now() + house_.options.times.write);
    wire_->write("HTTP/1.1 100 Continue\r\n\r\n", {}, [me = shared_from_this()](bool good) {
        if (me->phase_ == Phase::hearing) return good ? me->begin_body() : me->end();
    });
}

void Connection::begin_body() {
    if (ended_ && ahead_.size() < to_come_) return end();
    phase_ = Phase::body;
    alarm_at(deadline_);
    go_on();
}

void Connection::take_body() {
    take_from_ahead();
    if (to_come_ > 0) return ended_ ? end() : void();
    if (refused_) return write(std::move(*refused_));
    phase_ = Phase::working;
    house_.workers.add([me = shared_from_this()]() mutable { answer(std::move(me)); });
}

void Connection::answer(std::shared_ptr<Connection> me) {
    Response answer = me->heard_.answer(*me->asked_);
    Wire& wire = *me->wire_;
    wire.post([me = std::move(me), answer = std::move(answer)]() mutable {
        if (me->phase_ != Phase::over) me->write(std::move(answer));
    });
}

void Connection::turn_away(int status, const std::string& sentence) {
    if (!asked_) asked_ = std::make_shared<Request>();
    write(refusal_of(status, sentence, true));
}

void Connection::write(Response answer) {
    phase_ = Phase::writing;
    heard_ = {};
    room_.reset();
    answer_ = std::move(answer);
    const bool live = answer_.live && asked_->method != "HEAD";
    last_ = answer_.last || !keep_alive_ || house_.stopping || (live && old_);
    head_text_ = head_of(answer_, *asked_, house_.options.headers, live && !old_,
                         last_ ? std::nullopt : std::optional(idle()));
    const bool bare = live || asked_->method == "HEAD" || has_no_body(answer_.status);
    left_ = bare ? std::string_view() : answer_.body();
    write_piece(head_text_);
}

void Connection::write_piece(std::string_view first) {
    alarm_at(Clock::now() + house_.options.times.write);
    const std::string_view piece = left_.substr(0, one_writing);
    left_.remove_prefix(piece.size());
    wire_->write(first, piece, [me = shared_from_this()](bool good) {
        if (me->phase_ != Phase::writing) return;
        if (!good) return me->end();
        return me->left_.empty() ? me->written() : me->write_piece({});
    });
}

void Connection::written() {
    if (answer_.live && asked_->method != "HEAD") return begin_live();
    answer_ = {};
    return last_ ? leave() : wait_for_head();
}

void Connection::leave() {
    phase_ = Phase::leaving;
    alarm_at(Clock::now() + longest_farewell);
    wire_->take_leave([me = shared_from_this()] { me->end(); });
}

void Connection::begin_live() {
    live_ = std::move(answer_.live);
    answer_ = {};
    if (ended_) return end();
    phase_ = Phase::live;
    ahead_.clear();
    sign_at_ = Clock::now() + house_.options.times.heartbeat;
    alarm_at(sign_at_);
    live_->listen([me = weak_from_this()] { tell(me, &Connection::live_woken); });
    live_woken();
    read_more();
}

void Connection::live_woken() {
    woken_ = true;
    tell_live();
}

// The first of a burst goes at once, those behind it together: a screen is not woken for each of them.
void Connection::tell_live() {
    if (phase_ != Phase::live || telling_ || !woken_) return;
    if (const auto next = told_at_ + house_.options.times.gather; Clock::now() < next && next < sign_at_)
        return alarm_at(next);
    woken_ = false;
    const auto text = live_->take();
    if (!text) return end_live();
    if (!text->empty()) tell_text(*text);
}

void Connection::tell_text(const std::string& text) {
    telling_ = true;
    told_at_ = Clock::now();
    told_ = old_ ? text : fmt::format("{:x}\r\n{}\r\n", text.size(), text);
    told_until_ = told_at_ + house_.options.times.write;
    wire_->write(told_, {}, [me = shared_from_this()](bool good) {
        me->telling_ = false;
        if (me->phase_ != Phase::live) return;
        return good ? me->tell_live() : me->end();
    });
}

// A sign of life, also among events: whoever has lost their login meanwhile hears no more.
void Connection::look_after_live() {
    if (telling_ && Clock::now() >= told_until_) return end();
    sign_at_ = Clock::now() + house_.options.times.heartbeat;
    alarm_at(sign_at_);
    if (telling_) return;
    house_.workers.add([me = shared_from_this(), live = live_]() mutable {
        auto text = live->heartbeat();
        live.reset();
        Wire& wire = *me->wire_;
        wire.post([me = std::move(me), text = std::move(text)] {
            if (me->phase_ != Phase::live) return;
            if (!text) return me->end_live();
            if (!me->telling_) me->tell_text(*text);
        });
    });
}

void Connection::end_live() {
    if (telling_) return end();
    live_.reset();
    phase_ = Phase::writing;
    last_ = true;
    write_piece(old_ ? std::string_view() : "0\r\n\r\n");
}

}  // namespace seatwright::server
