#include "server/http/door.hpp"

#include <fmt/format.h>

#include <arpa/inet.h>
#include <netinet/in.h>
#include <sys/socket.h>
#include <unistd.h>

#include <algorithm>
#include <array>

#include "server/http/head.hpp"
#include "server/http/pages.hpp"

namespace seatwright::server {

namespace {

using Clock = Wire::Clock;
constexpr std::size_t one_reading = 16u << 10;

struct Address {
    std::string ip;
    int port = 0;
};

using AskName = int (*)(int, sockaddr*, socklen_t*);

Address address_of(socket_t socket, AskName ask) {
    sockaddr_storage stored{};
    socklen_t size = sizeof stored;
    if (ask(socket, reinterpret_cast<sockaddr*>(&stored), &size) != 0) return {};
    std::array<char, INET6_ADDRSTRLEN> text{};
    if (stored.ss_family == AF_INET) {
        const auto& four = reinterpret_cast<const sockaddr_in&>(stored);
        ::inet_ntop(AF_INET, &four.sin_addr, text.data(), text.size());
        return {text.data(), ntohs(four.sin_port)};
    }
    if (stored.ss_family == AF_INET6) {
        const auto& six = reinterpret_cast<const sockaddr_in6&>(stored);
        ::inet_ntop(AF_INET6, &six.sin6_addr, text.data(), text.size());
        return {text.data(), ntohs(six.sin6_port)};
    }
    return {};
}

// One request as the library reads it: the judged head, then as many bytes of body as it announced.
class RequestStream : public httplib::Stream {
  public:
    RequestStream(Wire& wire, std::string& ahead, Head head, const DoorTimes& times)
        : wire_(wire),
          ahead_(ahead),
          head_(std::move(head)),
          times_(times),
          until_(Clock::now() + times.body) {}

    bool is_readable() const override { return true; }
    bool is_writable() const override { return wire_.alive(); }

    ssize_t read(char* into, std::size_t size) override {
        if (given_ < head_.text.size()) {
            const std::size_t count = head_.text.copy(into, size, given_);
            given_ += count;
            return static_cast<ssize_t>(count);
        }
        size = static_cast<std::size_t>(std::min<unsigned long long>(size, head_.length));
        if (size == 0) return 0;
        std::size_t count = ahead_.copy(into, size);
        ahead_.erase(0, count);
        if (count == 0) count = wire_.read({into, size}, until_).value_or(0);
        head_.length -= count;
        return count > 0 ? static_cast<ssize_t>(count) : -1;
    }

    ssize_t write(const char* bytes, std::size_t size) override {
        // In pieces: a slow line may take long over a large answer, but not over a piece.
        constexpr std::size_t piece = 64u << 10;
        if (!wire_.alive()) return -1;
        const std::size_t count = std::min(size, piece);
        return wire_.write({bytes, count}, Clock::now() + times_.write) ? static_cast<ssize_t>(count) : -1;
    }

    void get_remote_ip_and_port(std::string& ip, int& port) const override {
        const Address address = address_of(wire_.socket(), ::getpeername);
        ip = address.ip;
        port = address.port;
    }
    void get_local_ip_and_port(std::string& ip, int& port) const override {
        const Address address = address_of(wire_.socket(), ::getsockname);
        ip = address.ip;
        port = address.port;
    }
    socket_t socket() const override { return wire_.socket(); }

    // Bytes of body nobody has read.
    bool unread() const { return head_.length > 0; }

  private:
    Wire& wire_;
    std::string& ahead_;  // read from the wire, not yet given on
    Head head_;
    const DoorTimes& times_;
    Clock::time_point until_;
    std::size_t given_ = 0;
};

class Connection {
  public:
    Connection(Wire& wire, const Visit& visit) : wire_(wire), visit_(visit), room_(one_reading, '\0') {}

    void serve() {
        for (std::size_t left = visit_.most_requests; left > 0 && visit_.open(); --left) {
            HeadGatherer head;
            if (!gather(head)) return;
            if (head.refused()) return turn_away(*head.refused());
            auto judgement = judged(head.text());
            if (!judgement) return turn_away(judgement.error());
            RequestStream stream(wire_, ahead_, std::move(*judgement), visit_.times);
            if (visit_.answer(stream, left == 1) == Next::close || stream.unread()) return;
        }
    }

  private:
    // Until the head is whole or refused; false when nobody asks any more.
    bool gather(HeadGatherer& head) {
        const auto idle = Clock::now() + visit_.times.idle;
        std::optional<Clock::time_point> until;
        while (true) {
            ahead_.erase(0, head.take(ahead_));
            if (head.whole() || head.refused()) return true;
            if (head.begun() && !until) until = Clock::now() + visit_.times.head;
            const auto count = read_some(until.value_or(idle));
            if (count && *count == 0) return false;
            if (count) continue;
            if (!visit_.open() || (!head.begun() && Clock::now() >= idle)) return false;
            if (until && Clock::now() >= *until) {
                turn_away(halt(408, "the request did not come to its end in time"));
                return false;
            }
        }
    }

    // In short waits, so that a server that stops is not held up by those who say nothing.
    std::optional<std::size_t> read_some(Clock::time_point until) {
        constexpr std::chrono::milliseconds look_up{20};
        const auto count = wire_.read(room_, std::min(until, Clock::now() + look_up));
        if (count) ahead_.append(room_, 0, *count);
        return count;
    }

    // An answer without the library, and the end of the connection. What still comes is read away for a
    // moment: closing over unread bytes would take the answer back.
    void turn_away(const Halt& halt) {
        const std::string body = halt.body.dump();
        std::string answer = fmt::format("HTTP/1.1 {} Refused\r\n", halt.status);
        for (const auto& [name, value] : safe_headers()) answer += fmt::format("{}: {}\r\n", name, value);
        answer +=
            fmt::format("Content-Type: application/json\r\nContent-Length: {}\r\nConnection: close\r\n\r\n{}",
                        body.size(), body);
        if (!wire_.write(answer, Clock::now() + visit_.times.write)) return;
        wire_.end_writing();
        constexpr std::size_t most = 1u << 20;
        const auto until = Clock::now() + std::chrono::seconds(1);
        for (std::size_t seen = 0; seen < most;) {
            const auto count = wire_.read(room_, until);
            if (count.value_or(0) == 0) return;
            seen += *count;
        }
    }

    Wire& wire_;
    const Visit& visit_;
    std::string room_;
    std::string ahead_;  // read from the wire, not yet given on
};

// Library: httplib::Server or httplib::SSLServer.
template <class Library>
class Door : public Library {
  public:
    using Library::Library;

  protected:
    Visit visit(const std::function<void(httplib::Request&)>& prepare) {
        Visit visit;
        visit.most_requests = this->keep_alive_max_count_;
        visit.open = [this] { return this->svr_sock_ != INVALID_SOCKET; };
        visit.answer = [this, prepare](httplib::Stream& stream, bool last) {
            bool closed = false;
            const bool good = this->process_request(stream, last, closed, prepare);
            return good && !closed ? Next::go_on : Next::close;
        };
        return visit;
    }
    static void close(socket_t socket) {
        ::shutdown(socket, SHUT_RDWR);
        ::close(socket);
    }
};

class PlainDoor : public Door<httplib::Server> {
    bool process_and_close_socket(socket_t socket) override {
        {
            PlainWire wire(socket);
            serve_connection(wire, visit(nullptr));
        }
        close(socket);
        return true;
    }
};

class TlsDoor : public Door<httplib::SSLServer> {
  public:
    using Door::Door;

  private:
    bool process_and_close_socket(socket_t socket) override {
        {
            TlsWire wire(socket, ssl_context());
            const Visit guest = visit([&](httplib::Request& request) { request.ssl = wire.ssl(); });
            if (wire.accept(Clock::now() + guest.times.head)) serve_connection(wire, guest);
        }
        close(socket);
        return true;
    }
};

}  // namespace

void serve_connection(Wire& wire, const Visit& visit) {
    Connection(wire, visit).serve();
}

std::unique_ptr<httplib::Server> make_door(const std::string& certificate, const std::string& key) {
    if (certificate.empty() && key.empty()) return std::make_unique<PlainDoor>();
    auto server = std::make_unique<TlsDoor>(certificate.c_str(), key.c_str());
    if (!server->is_valid())
        throw CannotServe(fmt::format(
            "{} and {} cannot be used: both must be PEM files, the key without a passphrase and the one that "
            "belongs to the certificate",
            certificate, key));
    return server;
}

}  // namespace seatwright::server
