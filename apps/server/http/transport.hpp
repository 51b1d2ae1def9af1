// The bytes of one connection, plain or under TLS, with a time until which to wait for them.
#pragma once

#include "server/http/http.hpp"

#include <openssl/ssl.h>

#include <chrono>
#include <memory>
#include <optional>
#include <span>
#include <string_view>

namespace seatwright::server {

class Transport {
  public:
    using Clock = std::chrono::steady_clock;
    // What a wait is ended by: bytes or room, the time, or the other side.
    enum class State { ready, late, ended };

    // Makes the socket non-blocking. The socket stays the caller's to close.
    explicit Transport(socket_t socket);
    virtual ~Transport() = default;
    Transport(const Transport&) = delete;
    Transport& operator=(const Transport&) = delete;

    // Bytes into `room`, at least one: how many; 0 when the other side has ended or the connection fails;
    // nothing when none came until `until`.
    virtual std::optional<std::size_t> read(std::span<char> room, Clock::time_point until) = 0;
    // Whether all of them were taken until `until`.
    virtual bool write(std::string_view bytes, Clock::time_point until) = 0;
    // No more bytes from here; the other side's are still read.
    virtual void end_writing();

    socket_t socket() const { return socket_; }
    // Whether the other side has not ended. Looks only, takes no byte.
    bool alive() const;

  protected:
    State wait_to_read(Clock::time_point until) const;
    State wait_to_write(Clock::time_point until) const;

  private:
    State wait(short what, Clock::time_point until) const;
    socket_t socket_;
};

class PlainTransport : public Transport {
  public:
    using Transport::Transport;
    std::optional<std::size_t> read(std::span<char> room, Clock::time_point until) override;
    bool write(std::string_view bytes, Clock::time_point until) override;
};

class TlsTransport : public Transport {
  public:
    TlsTransport(socket_t socket, SSL_CTX* context);
    ~TlsTransport() override;

    // The handshake; false if it fails or is not through until `until`.
    bool accept(Clock::time_point until);
    std::optional<std::size_t> read(std::span<char> room, Clock::time_point until) override;
    bool write(std::string_view bytes, Clock::time_point until) override;
    void end_writing() override;
    const SSL* ssl() const { return ssl_.get(); }

  private:
    // Waits for what the last call, which answered `result`, wants.
    State wait_for(int result, Clock::time_point until);
    std::unique_ptr<SSL, void (*)(SSL*)> ssl_;
    bool through_ = false;  // the handshake is, and nothing has failed since
};

}  // namespace seatwright::server
