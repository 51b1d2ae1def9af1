#include "server/feeds/source.hpp"

#include <fmt/format.h>

#include <chrono>
#include <thread>

#include "seatwright/live/follow.hpp"
#include "seatwright/live/gauge_line.hpp"
#include "seatwright/live/lines.hpp"
#include "seatwright/live/parts.hpp"
#include "seatwright/live/shdr.hpp"
#include "seatwright/place/termios_line.hpp"
#include "seatwright/place/trouble.hpp"
#include "seatwright/words/english_server.hpp"
#include "server/feeds/answer_reader.hpp"
#include "server/feeds/socket.hpp"

namespace seatwright::server {

namespace {

using SteadyClock = std::chrono::steady_clock;
using Ms = std::chrono::milliseconds;
using SourceKind = SourceSettings::Kind;

constexpr Ms listen_step{50}, connect_wait{3000}, again_after{1000}, ask_every{200};

void pause(const Listener& listener) {
    for (const auto until = SteadyClock::now() + again_after;
         SteadyClock::now() < until && !listener.ended();) {
        listener.idle();
        std::this_thread::sleep_for(listen_step);
    }
}

// One request of an agent, and its answer as far as it goes on.
class AskedSource {
  public:
    AskedSource(const SourceSettings& settings, const live::FollowSettings& ways, live::Follow& follow,
                const Listener& listener)
        : settings_(settings), ways_(ways), follow_(follow), listener_(listener) {}

    // True when it went as it should; else it is to be waited before the next.
    bool carry_out();

  private:
    bool take_document(const std::string& document);
    bool heard(const std::string& body);
    bool fail(const Sentence& why) {
        listener_.said(why);
        listener_.lost();
        return false;
    }

    const SourceSettings& settings_;
    const live::FollowSettings& ways_;
    live::Follow& follow_;
    const Listener& listener_;
    AnswerReader answer_;
    std::optional<live::Parts> parts_;
    std::string whole_;
    bool over_ = false, well_ = true;
};

// What a document means; ends this answer where another is to be asked for.
bool AskedSource::take_document(const std::string& document) {
    listener_.alive();
    auto followed = follow_.take(document);
    for (const auto& note : followed.notes) listener_.said(note);
    if (!followed.notes.empty()) listener_.lost();
    if (followed.devices) listener_.devices(*followed.devices);
    for (const auto& one : followed.observations) listener_.observed(one);
    over_ = over_ || followed.ask_again;
    well_ = well_ && followed.notes.empty();
    return !over_;
}

bool AskedSource::heard(const std::string& body) {
    if (!parts_ && whole_.empty()) {
        if (const auto boundary = live::boundary_of(answer_.content_type())) parts_.emplace(*boundary);
    }
    if (!parts_) {
        whole_ += body;
        if (whole_.size() > live::largest_document) return fail(sentence<"endless-answer">());
        return true;
    }
    for (const auto& part : parts_->add(body))
        if (!take_document(part)) return true;
    if (!parts_->fault().empty()) return fail(parts_->fault());
    over_ = over_ || parts_->ended();
    return true;
}

bool AskedSource::carry_out() {
    auto socket = Socket::connect(settings_.host, settings_.port, connect_wait);
    if (!socket) return fail(socket.error());
    const std::string request = fmt::format(
        "GET {} HTTP/1.1\r\nHost: {}:{}\r\nAccept: text/xml, multipart/x-mixed-replace\r\n"
        "Connection: close\r\n\r\n",
        follow_.next(), settings_.host, settings_.port);
    if (!socket->write(request)) return fail(sentence<"agent-takes-nothing">());
    // A part comes each heartbeat; silence of two is its death. A document has longer.
    const Ms patience{std::max(2 * ways_.heartbeat_ms, follow_.streams() ? 0 : 10'000)};
    auto last = SteadyClock::now();
    while (!over_ && !listener_.ended()) {
        listener_.idle();
        const auto came = socket->read(listen_step);
        if (!came) {
            answer_.end();
            break;
        }
        if (came->empty()) {
            if (SteadyClock::now() - last > patience) return fail(sentence<"agent-silent">());
            continue;
        }
        last = SteadyClock::now();
        const std::string body = answer_.add(*came);
        if (!answer_.fault().empty()) return fail(answer_.fault());
        if (answer_.head_known() && answer_.status() >= 300 && answer_.status() < 400)
            return fail(sentence<"agent-elsewhere">());
        if (!body.empty() && !heard(body)) return false;
        if (answer_.whole()) break;
    }
    if (listener_.ended() || over_) return well_;
    if (parts_) return fail(sentence<"agent-ended">());
    if (whole_.empty())
        return fail(answer_.head_known() ? sentence<"agent-status">("status"_is = answer_.status())
                                         : sentence<"agent-no-answer">());
    take_document(whole_);
    return well_;
}

void follow_agent(const SourceSettings& settings, const Listener& listener) {
    const live::FollowSettings ways{settings.machine, 50, 1000, 1000};
    live::Follow follow(ways);
    while (!listener.ended())
        if (!AskedSource(settings, ways, follow, listener).carry_out()) pause(listener);
}

// Lines off a wire, whichever it is. `read`, `write` as the wire has them.
template <class Wire>
void follow_lines(Wire& wire, const SourceSettings& settings, const Listener& listener) {
    live::Lines lines;
    live::Shdr shdr;
    Ms sign_every{10'000};
    const bool adapter = settings.kind == SourceKind::adapter;
    auto next = SteadyClock::now();
    while (!listener.ended()) {
        if ((adapter || !settings.ask.empty()) && SteadyClock::now() >= next) {
            if (!wire.write(adapter ? "* PING\n" : settings.ask + "\r")) {
                listener.said(sentence<"source-takes-nothing">());
                return;
            }
            next = SteadyClock::now() + (adapter ? sign_every : ask_every);
        }
        listener.idle();
        const auto came = wire.read(listen_step);
        if (!came) {
            listener.said(came.error());
            return;
        }
        for (const auto& line : lines.add(*came)) {
            listener.alive();
            if (adapter) {
                const auto read = shdr.read(line);
                if (read.pong) sign_every = Ms{*read.pong};
                if (!read.fault.empty()) listener.said(read.fault);
                for (const auto& one : read.observations) listener.observed(one);
            } else if (const auto seen = live::read_gauge_line(line)) {
                listener.observed(*seen);
            } else {
                listener.lost();
                listener.said(seen.error());
            }
        }
    }
}

// A serial line as follow_lines wants it.
struct SerialWire {
    place::Line& line;
    bool write(const std::string& bytes) const {
        const auto done = line.write(bytes, Ms{500});
        return done && *done == bytes.size();
    }
    tl::expected<std::string, Sentence> read(Ms wait) const {
        auto came = line.read(wait);
        if (!came) return tl::unexpected(sentence<"line">("trouble"_is = place::trouble_of(came.error())));
        return *came;
    }
};

void follow_wire(const SourceSettings& settings, const Listener& listener) {
    while (!listener.ended()) {
        if (settings.kind == SourceKind::line) {
            auto line = place::open_line(settings.device, settings.line);
            if (line) {
                (*line)->begin_handshake();
                SerialWire wire{**line};
                follow_lines(wire, settings, listener);
            } else {
                listener.said(line.error());
            }
        } else {
            auto socket = Socket::connect(settings.host, settings.port, connect_wait);
            if (socket)
                follow_lines(*socket, settings, listener);
            else
                listener.said(socket.error());
        }
        listener.lost();
        pause(listener);
    }
}

}  // namespace

void follow_source(const SourceSettings& settings, const Listener& listener) {
    if (settings.kind == SourceKind::agent)
        follow_agent(settings, listener);
    else
        follow_wire(settings, listener);
}

}  // namespace seatwright::server
