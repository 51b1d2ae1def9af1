// A connection that sends whatever bytes a test likes, over loopback, plain or under TLS.
#pragma once

#include <arpa/inet.h>
#include <netinet/in.h>
#include <openssl/ssl.h>
#include <sys/socket.h>
#include <unistd.h>

#include <algorithm>
#include <csignal>
#include <memory>
#include <string>

#include "seatwright/base/sha256.hpp"

namespace seatwright::server {

enum class Over { http, https };

class Raw {
  public:
    // `from`: the address it comes from, one of this machine's own (127.0.0.2).
    explicit Raw(int port, Over over = Over::http, const char* from = "127.0.0.1")
        : socket_(::socket(AF_INET, SOCK_STREAM, 0)) {
        const timeval most{15, 0};
        ::setsockopt(socket_, SOL_SOCKET, SO_RCVTIMEO, &most, sizeof most);
        ::setsockopt(socket_, SOL_SOCKET, SO_SNDTIMEO, &most, sizeof most);
        sockaddr_in own{};
        own.sin_family = AF_INET;
        ::inet_pton(AF_INET, from, &own.sin_addr);
        if (::bind(socket_, reinterpret_cast<sockaddr*>(&own), sizeof own) != 0) return;
        sockaddr_in to{};
        to.sin_family = AF_INET;
        to.sin_port = htons(static_cast<uint16_t>(port));
        ::inet_pton(AF_INET, "127.0.0.1", &to.sin_addr);
        if (::connect(socket_, reinterpret_cast<sockaddr*>(&to), sizeof to) != 0) return;
        if (over == Over::http) return;
        std::signal(SIGPIPE, SIG_IGN);  // the library writes without MSG_NOSIGNAL
        context_.reset(SSL_CTX_new(TLS_client_method()));
        ssl_.reset(SSL_new(context_.get()));
        SSL_set_fd(ssl_.get(), socket_);
        SSL_connect(ssl_.get());
    }
    ~Raw() {
        ssl_.reset();
        ::close(socket_);
    }
    Raw(const Raw&) = delete;
    Raw& operator=(const Raw&) = delete;

    // False when the other side does not take all of it.
    bool send(const std::string& bytes) {
        for (std::size_t at = 0; at < bytes.size();) {
            const auto left = bytes.size() - at;
            const auto count = ssl_ ? SSL_write(ssl_.get(), bytes.data() + at, static_cast<int>(left))
                                    : ::send(socket_, bytes.data() + at, left, MSG_NOSIGNAL);
            if (count <= 0) return false;
            at += static_cast<std::size_t>(count);
        }
        return true;
    }
    // What comes until the other side ends, or until there are `most` bytes of it.
    std::string receive(std::size_t most) {
        std::string all, room(1u << 16, '\0');
        while (all.size() < most) {
            const auto count = ssl_ ? SSL_read(ssl_.get(), room.data(), static_cast<int>(room.size()))
                                    : ::recv(socket_, room.data(), room.size(), 0);
            if (count <= 0) break;
            all.append(room, 0, static_cast<std::size_t>(count));
        }
        return all;
    }

    // SHA-256 of the DER form of what the other side showed, hexadecimal; empty: nothing.
    std::string certificate() const {
        const std::unique_ptr<X509, void (*)(X509*)> shown(
            ssl_ ? SSL_get1_peer_certificate(ssl_.get()) : nullptr, X509_free);
        if (!shown) return {};
        unsigned char* der = nullptr;
        const int size = i2d_X509(shown.get(), &der);
        const std::string bytes(reinterpret_cast<char*>(der), static_cast<std::size_t>(std::max(size, 0)));
        OPENSSL_free(der);
        return sha256(bytes);
    }

  private:
    int socket_;
    std::unique_ptr<SSL_CTX, void (*)(SSL_CTX*)> context_{nullptr, SSL_CTX_free};
    std::unique_ptr<SSL, void (*)(SSL*)> ssl_{nullptr, SSL_free};
};

// "HTTP/1.1 431 …" → 431; 0 for anything else.
inline int status_in(const std::string& answer) {
    return answer.starts_with("HTTP/1.1 ") && answer.size() > 12 ? std::stoi(answer.substr(9, 3)) : 0;
}

}  // namespace seatwright::server
