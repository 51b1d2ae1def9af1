#include "server/http/transport.hpp"

#include <fcntl.h>
#include <openssl/err.h>
#include <poll.h>
#include <sys/socket.h>

#include <algorithm>
#include <cerrno>

namespace seatwright::server {

namespace {

bool would_wait() {
    return errno == EAGAIN || errno == EWOULDBLOCK;
}

// OpenSSL counts bytes in int.
int as_int(std::size_t size) {
    constexpr std::size_t most = 1u << 30;
    return static_cast<int>(std::min(size, most));
}

}  // namespace

Transport::Transport(socket_t socket) : socket_(socket) {
    ::fcntl(socket, F_SETFL, ::fcntl(socket, F_GETFL) | O_NONBLOCK);
}

Transport::State Transport::wait(short what, Clock::time_point until) const {
    while (true) {
        const auto left = std::chrono::ceil<std::chrono::milliseconds>(until - Clock::now()).count();
        pollfd one{socket_, what, 0};
        const int found = ::poll(&one, 1, static_cast<int>(std::clamp<long long>(left, 0, 3'600'000)));
        if (found > 0) return State::ready;
        if (found < 0 && errno != EINTR) return State::ended;
        if (Clock::now() >= until) return State::late;
    }
}

Transport::State Transport::wait_to_read(Clock::time_point until) const {
    return wait(POLLIN, until);
}

Transport::State Transport::wait_to_write(Clock::time_point until) const {
    return wait(POLLOUT, until);
}

bool Transport::alive() const {
    char one = 0;
    const auto seen = ::recv(socket_, &one, 1, MSG_PEEK | MSG_DONTWAIT);
    return seen > 0 || (seen < 0 && (would_wait() || errno == EINTR));
}

void Transport::end_writing() {
    ::shutdown(socket_, SHUT_WR);
}

std::optional<std::size_t> PlainTransport::read(std::span<char> room, Clock::time_point until) {
    while (true) {
        const auto count = ::recv(socket(), room.data(), room.size(), 0);
        if (count >= 0) return static_cast<std::size_t>(count);
        if (errno == EINTR) continue;
        if (!would_wait()) return 0;
        const State state = wait_to_read(until);
        if (state == State::late) return std::nullopt;
        if (state == State::ended) return 0;
    }
}

bool PlainTransport::write(std::string_view bytes, Clock::time_point until) {
    while (!bytes.empty()) {
        const auto count = ::send(socket(), bytes.data(), bytes.size(), MSG_NOSIGNAL);
        if (count >= 0) {
            bytes.remove_prefix(static_cast<std::size_t>(count));
            continue;
        }
        if (errno == EINTR) continue;
        if (!would_wait() || wait_to_write(until) != State::ready) return false;
    }
    return true;
}

TlsTransport::TlsTransport(socket_t socket, SSL_CTX* context)
    : Transport(socket), ssl_(SSL_new(context), SSL_free) {
    if (ssl_) SSL_set_fd(ssl_.get(), socket);
}

TlsTransport::~TlsTransport() {
    if (through_) end_writing();
}

Transport::State TlsTransport::wait_for(int result, Clock::time_point until) {
    const int why = SSL_get_error(ssl_.get(), result);
    if (why == SSL_ERROR_WANT_READ) return wait_to_read(until);
    if (why == SSL_ERROR_WANT_WRITE) return wait_to_write(until);
    // After any other failure nothing may be asked of the connection, not even a farewell.
    if (why != SSL_ERROR_ZERO_RETURN) through_ = false;
    return State::ended;
}

bool TlsTransport::accept(Clock::time_point until) {
    if (!ssl_) return false;
    while (true) {
        ERR_clear_error();
        const int result = SSL_accept(ssl_.get());
        if (result == 1) return through_ = true;
        if (wait_for(result, until) != State::ready) return false;
    }
}

std::optional<std::size_t> TlsTransport::read(std::span<char> room, Clock::time_point until) {
    while (through_) {
        ERR_clear_error();
        const int count = SSL_read(ssl_.get(), room.data(), as_int(room.size()));
        if (count > 0) return static_cast<std::size_t>(count);
        const State state = wait_for(count, until);
        if (state == State::late) return std::nullopt;
        if (state == State::ended) return 0;
    }
    return 0;
}

bool TlsTransport::write(std::string_view bytes, Clock::time_point until) {
    while (through_ && !bytes.empty()) {
        ERR_clear_error();
        const int count = SSL_write(ssl_.get(), bytes.data(), as_int(bytes.size()));
        if (count > 0) {
            bytes.remove_prefix(static_cast<std::size_t>(count));
        } else if (wait_for(count, until) != State::ready) {
            // A record may be half out: nothing can follow it.
            through_ = false;
        }
    }
    return through_;
}

void TlsTransport::end_writing() {
    if (through_) {
        ERR_clear_error();
        SSL_shutdown(ssl_.get());
    }
    Transport::end_writing();
}

}  // namespace seatwright::server
