// A connection to an address that a feed names, with an end to every wait.
#pragma once

#include <chrono>
#include <string>
#include <string_view>
#include <tl/expected.hpp>

#include "seatwright/words/part.hpp"

namespace seatwright::server {

class Socket {
  public:
    using Wait = std::chrono::milliseconds;
    // Error: why not.
    static tl::expected<Socket, Sentence> connect(const std::string& host, int port, Wait wait);
    ~Socket();
    Socket(Socket&& other) noexcept;
    Socket& operator=(Socket&&) = delete;
    Socket(const Socket&) = delete;
    Socket& operator=(const Socket&) = delete;

    bool write(std::string_view bytes);
    // What has come, or comes first within the wait; empty: nothing. Error: the other side is gone.
    tl::expected<std::string, Sentence> read(Wait wait);

  private:
    explicit Socket(int handle) : handle_(handle) {}
    int handle_;
};

}  // namespace seatwright::server
