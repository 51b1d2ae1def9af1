// A connection to a server on this machine.
#pragma once

#include <arpa/inet.h>
#include <netinet/in.h>
#include <netinet/tcp.h>
#include <sys/socket.h>
#include <unistd.h>

#include <cstdint>

namespace seatwright::server {

// What is sent goes out at once. -1: refused.
inline int connected_to(int port) {
    const int socket = ::socket(AF_INET, SOCK_STREAM, 0);
    const int at_once = 1;
    ::setsockopt(socket, IPPROTO_TCP, TCP_NODELAY, &at_once, sizeof at_once);
    sockaddr_in to{};
    to.sin_family = AF_INET;
    to.sin_port = htons(static_cast<uint16_t>(port));
    to.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    if (::connect(socket, reinterpret_cast<const sockaddr*>(&to), sizeof to) == 0) return socket;
    ::close(socket);
    return -1;
}

}  // namespace seatwright::server
