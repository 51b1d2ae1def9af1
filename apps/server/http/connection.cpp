#include "server/http/connection.hpp"

#include <fmt/format.h>

#include <arpa/inet.h>
#include <netinet/in.h>
#include <sys/socket.h>
#include <unistd.h>

#include <algorithm>
#include <array>

#include "server/http/access.hpp"

namespace seatwright::server {

namespace {

using Clock = Transport::Clock;
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
    RequestStream(Transport& transport, std::string& ahead, RequestHead head, const ConnectionTimes& times)
        : transport_(transport),
          ahead_(ahead),
          head_(std::move(head)),
          times_(times),
          until_(Clock::now() + times.body) {}

    bool is_readable() const override { return true; }
    bool is_writable() const override { return transport_.alive(); }

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
        if (count == 0) count = transport_.read({into, size}, until_).value_or(0);
        head_.length -= count;
        return count > 0 ? static_cast<ssize_t>(count) : -1;
    }

    ssize_t write(const char* bytes, std::size_t size) override {
        // In pieces: a slow line may take long over a large answer, but not over a piece.
        constexpr std::size_t piece = 64u << 10;
        if (!transport_.alive()) return -1;
        const std::size_t count = std::min(size, piece);
        return transport_.write({bytes, count}, Clock::now() + times_.write) ? static_cast<ssize_t>(count)
                                                                             : -1;
    }

    void get_remote_ip_and_port(std::string& ip, int& port) const override {
        const Address address = address_of(transport_.socket(), ::getpeername);
        ip = address.ip;
        port = address.port;
    }
    void get_local_ip_and_port(std::string& ip, int& port) const override {
        const Address address = address_of(transport_.socket(), ::getsockname);
        ip = address.ip;
        port = address.port;
    }
    socket_t socket() const override { return transport_.socket(); }

    // Bytes of body nobody has read.
    bool unread() const { return head_.length > 0; }

  private:
    Transport& transport_;
    std::string& ahead_;  // read, not yet given on
    RequestHead head_;
    const ConnectionTimes& times_;
    Clock::time_point until_;
    std::size_t given_ = 0;
};

class Connection {
  public:
    Connection(Transport& transport, const Visit& visit)
        : transport_(transport), visit_(visit), room_(one_reading, '\0') {}

    void serve() {
        for (std::size_t left = visit_.most_requests; left > 0 && visit_.open(); --left) {
            RequestHeadReader head;
            if (!gather(head)) return;
            if (head.refused()) return turn_away(*head.refused());
            auto judgement = judged(head.text());
            if (!judgement) return turn_away(judgement.error());
            if (visit_.welcome && !visit_.welcome(*judgement))
                return turn_away(http_error(503, "too many who are not logged in ask at once; try again"));
            RequestStream stream(transport_, ahead_, std::move(*judgement), visit_.times);
            if (visit_.answer(stream, left == 1) == Next::close || stream.unread()) return;
        }
    }

  private:
    // Until the head is whole or refused; false when nobody asks any more.
    bool gather(RequestHeadReader& head) {
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
                turn_away(http_error(408, "the request did not come to its end in time"));
                return false;
            }
        }
    }

    // In short waits, so that a server that stops is not held up by those who say nothing.
    std::optional<std::size_t> read_some(Clock::time_point until) {
        constexpr std::chrono::milliseconds look_up{20};
        const auto count = transport_.read(room_, std::min(until, Clock::now() + look_up));
        if (count) ahead_.append(room_, 0, *count);
        return count;
    }

    // An answer without the library, and the end of the connection. What still comes is read away for a
    // moment: closing over unread bytes would take the answer back.
    void turn_away(const HttpError& error) {
        const std::string body = error.body.dump();
        std::string answer = fmt::format("HTTP/1.1 {} Refused\r\n", error.status);
        for (const auto& [name, value] : visit_.headers) answer += fmt::format("{}: {}\r\n", name, value);
        answer +=
            fmt::format("Content-Type: application/json\r\nContent-Length: {}\r\nConnection: close\r\n\r\n{}",
                        body.size(), body);
        if (!transport_.write(answer, Clock::now() + visit_.times.write)) return;
        transport_.end_writing();
        constexpr std::size_t most = 1u << 20;
        const auto until = Clock::now() + std::chrono::seconds(1);
        for (std::size_t seen = 0; seen < most;) {
            const auto count = transport_.read(room_, until);
            if (count.value_or(0) == 0) return;
            seen += *count;
        }
    }

    Transport& transport_;
    const Visit& visit_;
    std::string room_;
    std::string ahead_;  // read, not yet given on
};

// Library: httplib::Server or httplib::SSLServer.
template <class Library>
class ConnectionServer : public Library {
  public:
    template <class... Arguments>
    explicit ConnectionServer(Doors doors, Arguments&&... arguments)
        : Library(std::forward<Arguments>(arguments)...), doors_(std::move(doors)) {}

  protected:
    // Serves the connection, if there is room for it, by `serve(guest, address)`; closes it.
    template <class Serve>
    void take_in(socket_t socket, Serve&& serve) {
        const std::string address = address_of(socket, ::getpeername).ip;
        {
            Guests::Guest guest = doors_.guests->enter(doors_.behind_proxy ? std::string() : address,
                                                       [socket] { ::shutdown(socket, SHUT_RDWR); });
            if (guest) serve(guest, address);
        }
        ::shutdown(socket, SHUT_RDWR);
        ::close(socket);
    }

    Visit visit(Guests::Guest& guest, const std::string& address, const Transport& transport,
                const SSL* ssl = nullptr) {
        Visit visit;
        visit.most_requests = this->keep_alive_max_count_;
        visit.headers = doors_.headers;
        visit.open = [this] { return this->svr_sock_ != INVALID_SOCKET; };
        visit.welcome = [this, &guest, address](const RequestHead& head) {
            const bool forwarded = doors_.behind_proxy && !head.forwarded_for.empty();
            return guest.asks(forwarded ? last_forwarded(head.forwarded_for) : address,
                              doors_.knows(head.cookie));
        };
        visit.answer = [this, &transport, ssl](httplib::Stream& stream, bool last) {
            bool closed = false;
            const auto prepare = [&](httplib::Request& request) {
                request.ssl = ssl;
                request.progress = [&transport](std::uint64_t, std::uint64_t) { return transport.alive(); };
            };
            const bool good = this->process_request(stream, last, closed, prepare);
            return good && !closed ? Next::go_on : Next::close;
        };
        return visit;
    }

  private:
    Doors doors_;
};

class PlainServer : public ConnectionServer<httplib::Server> {
  public:
    using ConnectionServer::ConnectionServer;

  private:
    bool process_and_close_socket(socket_t socket) override {
        take_in(socket, [&](Guests::Guest& guest, const std::string& address) {
            PlainTransport transport(socket);
            serve_connection(transport, visit(guest, address, transport));
        });
        return true;
    }
};

class TlsServer : public ConnectionServer<httplib::SSLServer> {
  public:
    using ConnectionServer::ConnectionServer;

  private:
    bool process_and_close_socket(socket_t socket) override {
        take_in(socket, [&](Guests::Guest& guest, const std::string& address) {
            TlsTransport transport(socket, ssl_context());
            const Visit coming = visit(guest, address, transport, transport.ssl());
            if (transport.accept(Clock::now() + coming.times.head)) serve_connection(transport, coming);
        });
        return true;
    }
};

}  // namespace

void serve_connection(Transport& transport, const Visit& visit) {
    Connection(transport, visit).serve();
}

std::unique_ptr<httplib::Server> make_server(const std::string& certificate, const std::string& key,
                                             Doors doors) {
    if (certificate.empty() && key.empty()) return std::make_unique<PlainServer>(std::move(doors));
    auto server = std::make_unique<TlsServer>(std::move(doors), certificate.c_str(), key.c_str());
    if (!server->is_valid())
        throw CannotServe(fmt::format(
            "{} and {} cannot be used: both must be PEM files, the key without a passphrase and the one that "
            "belongs to the certificate",
            certificate, key));
    return server;
}

}  // namespace seatwright::server
