// What a connection goes over, plain or TLS, as the connection sees it: bytes in and out and one alarm, none
// of which waits. Implemented in web_server.cpp.
#pragma once

#include <chrono>
#include <functional>
#include <span>
#include <string>
#include <string_view>

namespace seatwright::server {

// All of it is used from the connection's own thread, where everything given is called back, too; only post()
// is for any thread. What is given to be filled or written must stay until it is called back.
class Wire {
  public:
    using Clock = std::chrono::steady_clock;
    using Done = std::function<void(bool good)>;

    virtual ~Wire() = default;
    virtual std::string address() const = 0;  // the other side's; empty when it has gone
    virtual void post(std::function<void()> work) = 0;
    // The handshake of TLS; plain: nothing.
    virtual void greet(Done done) = 0;
    // Bytes into the room, at least one. Not good: the other side has ended, or the connection failed. One at
    // a time; goes on while something is written.
    virtual void read(std::span<char> room, std::function<void(bool good, std::size_t count)> done) = 0;
    // All of both, the one after the other; one write at a time.
    virtual void write(std::string_view first, std::string_view second, Done done) = 0;
    // Calls `alarm` at that time; in place of what was set before.
    virtual void wake_at(Clock::time_point when, std::function<void()> alarm) = 0;
    // Says that nothing more comes and reads away what the other side still sends, until it ends or it is too
    // much: closing over unread bytes would take back what was written last.
    virtual void take_leave(std::function<void()> done) = 0;
    // Whatever is under way is called back as not good.
    virtual void close() = 0;
};

}  // namespace seatwright::server
