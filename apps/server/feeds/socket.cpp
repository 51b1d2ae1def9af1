#include "server/feeds/socket.hpp"

#include <fcntl.h>
#include <netdb.h>
#include <poll.h>
#include <sys/socket.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <cstring>
#include <memory>
#include <utility>

#include "seatwright/words/english_server.hpp"

namespace seatwright::server {

namespace {

bool ready(int handle, short what, Socket::Wait wait) {
    pollfd one{handle, what, 0};
    return ::poll(&one, 1, static_cast<int>(wait.count())) > 0;
}

// 0 when it is connected; else the errno.
int connected(int handle, const addrinfo& to, Socket::Wait wait) {
    if (::connect(handle, to.ai_addr, to.ai_addrlen) == 0) return 0;
    if (errno != EINPROGRESS) return errno;
    if (!ready(handle, POLLOUT, wait)) return ETIMEDOUT;
    int fault = 0;
    socklen_t size = sizeof(fault);
    return ::getsockopt(handle, SOL_SOCKET, SO_ERROR, &fault, &size) == 0 ? fault : errno;
}

}  // namespace

tl::expected<Socket, Sentence> Socket::connect(const std::string& host, int port, Wait wait) {
    addrinfo hints{};
    hints.ai_socktype = SOCK_STREAM;
    addrinfo* found = nullptr;
    if (const int fault = ::getaddrinfo(host.c_str(), std::to_string(port).c_str(), &hints, &found);
        fault != 0)
        return tl::unexpected(
            sentence<"host-not-known">("host"_is = host, "fault"_is = ::gai_strerror(fault)));
    const std::unique_ptr<addrinfo, decltype(&::freeaddrinfo)> all(found, &::freeaddrinfo);
    int fault = ECONNREFUSED;
    for (const addrinfo* at = all.get(); at != nullptr; at = at->ai_next) {
        Socket socket(::socket(at->ai_family, SOCK_STREAM | SOCK_NONBLOCK | SOCK_CLOEXEC, at->ai_protocol));
        if (socket.handle_ < 0) continue;
        fault = connected(socket.handle_, *at, wait);
        if (fault == 0) return socket;
    }
    return tl::unexpected(
        sentence<"no-answer">("host"_is = host, "port"_is = port, "fault"_is = std::strerror(fault)));
}

Socket::Socket(Socket&& other) noexcept : handle_(std::exchange(other.handle_, -1)) {}

Socket::~Socket() {
    if (handle_ >= 0) ::close(handle_);
}

bool Socket::write(std::string_view bytes) {
    constexpr Wait wait{2000};
    while (!bytes.empty()) {
        if (!ready(handle_, POLLOUT, wait)) return false;
        const ssize_t sent = ::send(handle_, bytes.data(), bytes.size(), MSG_NOSIGNAL);
        if (sent < 0 && errno == EINTR) continue;
        if (sent <= 0) return false;
        bytes.remove_prefix(static_cast<std::size_t>(sent));
    }
    return true;
}

tl::expected<std::string, Sentence> Socket::read(Wait wait) {
    if (!ready(handle_, POLLIN, wait)) return std::string();
    std::array<char, 1 << 16> buffer{};
    const ssize_t got = ::recv(handle_, buffer.data(), buffer.size(), 0);
    if (got > 0) return std::string(buffer.data(), static_cast<std::size_t>(got));
    if (got < 0 && (errno == EINTR || errno == EAGAIN)) return std::string();
    return tl::unexpected(got == 0 ? sentence<"other-side-ended">()
                                   : sentence<"connection-broke">("fault"_is = std::strerror(errno)));
}

}  // namespace seatwright::server
