// Both ends of a pseudo-terminal: the far end is the control or the gauge, the name is what is opened.
#pragma once

#include <fcntl.h>
#include <poll.h>
#include <pty.h>
#include <termios.h>
#include <unistd.h>

#include <array>
#include <stdexcept>
#include <string>

namespace seatwright::place {

class Pty {
  public:
    Pty() {
        std::array<char, 128> name{};
        termios raw{};
        ::cfmakeraw(&raw);
        if (::openpty(&far_, &near_, name.data(), &raw, nullptr) != 0)
            throw std::runtime_error("no pseudo-terminal for the test");
        name_ = name.data();
    }
    ~Pty() { hang_up(); }
    Pty(const Pty&) = delete;
    Pty& operator=(const Pty&) = delete;

    const std::string& name() const { return name_; }
    void say(const std::string& bytes) const {
        if (::write(far_, bytes.data(), bytes.size()) != static_cast<ssize_t>(bytes.size()))
            throw std::runtime_error("the far end could not write");
    }
    // What comes within the wait; empty: nothing.
    std::string hear(int wait_ms) const {
        pollfd one{far_, POLLIN, 0};
        if (::poll(&one, 1, wait_ms) <= 0) return {};
        std::array<char, 4096> buffer{};
        const ssize_t got = ::read(far_, buffer.data(), buffer.size());
        return got > 0 ? std::string(buffer.data(), static_cast<std::size_t>(got)) : std::string();
    }
    void hang_up() {
        for (int* end : {&far_, &near_})
            if (*end >= 0) ::close(*end), *end = -1;
    }

  private:
    int far_ = -1, near_ = -1;
    std::string name_;
};

}  // namespace seatwright::place
