#include "seatwright/place/termios_line.hpp"

#include <fcntl.h>
#include <poll.h>
#include <sys/file.h>
#include <sys/ioctl.h>
#include <sys/stat.h>
#include <termios.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <utility>

#include "seatwright/place/trouble.hpp"
#include "seatwright/words/english_place.hpp"

namespace seatwright::place {

namespace {

constexpr std::array<std::pair<int, speed_t>, 11> speeds{{{110, B110},
                                                          {300, B300},
                                                          {600, B600},
                                                          {1200, B1200},
                                                          {2400, B2400},
                                                          {4800, B4800},
                                                          {9600, B9600},
                                                          {19200, B19200},
                                                          {38400, B38400},
                                                          {57600, B57600},
                                                          {115200, B115200}}};

const std::pair<int, speed_t>* speed_of(int baud) {
    const auto* at =
        std::find_if(speeds.begin(), speeds.end(), [&](const auto& s) { return s.first == baud; });
    return at == speeds.end() ? nullptr : at;
}

class TermiosLine : public Line {
  public:
    TermiosLine(int handle, const LineSettings& settings) : handle_(handle), settings_(settings) {}
    ~TermiosLine() override {
        ::ioctl(handle_, TIOCNXCL);
        ::close(handle_);
    }

    bool set() {
        termios t{};
        if (::tcgetattr(handle_, &t) != 0) return false;
        ::cfmakeraw(&t);
        t.c_cflag &= ~static_cast<tcflag_t>(CSIZE | PARENB | PARODD | CSTOPB | CRTSCTS);
        t.c_cflag |= CLOCAL | CREAD | (settings_.bits == 7 ? CS7 : CS8);
        if (settings_.parity != 'n') t.c_cflag |= PARENB;
        if (settings_.parity == 'o') t.c_cflag |= PARODD;
        if (settings_.stop_bits == 2) t.c_cflag |= CSTOPB;
        if (settings_.handshake == Handshake::rts_cts) t.c_cflag |= CRTSCTS;
        t.c_iflag &= ~static_cast<tcflag_t>(IXON | IXOFF | IXANY);
        ::cfsetispeed(&t, speed_of(settings_.baud)->second);
        ::cfsetospeed(&t, speed_of(settings_.baud)->second);
        t.c_cc[VMIN] = 0;
        t.c_cc[VTIME] = 0;
        return ::tcsetattr(handle_, TCSANOW, &t) == 0;
    }

    tl::expected<std::size_t, int> write(std::string_view bytes, Wait wait) override {
        if (!ready(POLLOUT, wait)) return 0;
        const ssize_t taken = ::write(handle_, bytes.data(), bytes.size());
        if (taken >= 0) return static_cast<std::size_t>(taken);
        if (errno == EAGAIN || errno == EINTR) return 0;
        return tl::unexpected(errno);
    }

    tl::expected<std::string, int> read(Wait wait) override {
        if (!ready(POLLIN, wait)) return std::string();
        std::array<char, 4096> buffer{};
        const ssize_t got = ::read(handle_, buffer.data(), buffer.size());
        if (got > 0) return std::string(buffer.data(), static_cast<std::size_t>(got));
        if (got < 0 && (errno == EAGAIN || errno == EINTR)) return std::string();
        // Readable and nothing to read: the other end is gone.
        return tl::unexpected(got == 0 ? EIO : errno);
    }

    std::optional<bool> clear_to_send() override {
        int wires = 0;
        if (::ioctl(handle_, TIOCMGET, &wires) != 0) return std::nullopt;
        return (wires & TIOCM_CTS) != 0;
    }

    std::size_t unsent() override {
        int bytes = 0;
        return ::ioctl(handle_, TIOCOUTQ, &bytes) == 0 && bytes > 0 ? static_cast<std::size_t>(bytes) : 0;
    }

    void drop_unsent() override { ::tcflush(handle_, TCOFLUSH); }

    void begin_handshake() override {
        if (settings_.handshake != Handshake::xon_xoff) return;
        termios t{};
        if (::tcgetattr(handle_, &t) != 0) return;
        t.c_iflag |= IXON;
        ::tcsetattr(handle_, TCSANOW, &t);
    }

  private:
    // Also when the other end is gone: the call that follows says so.
    bool ready(short what, Wait wait) const {
        pollfd one{handle_, what, 0};
        return ::poll(&one, 1, static_cast<int>(wait.count())) > 0;
    }

    int handle_;
    LineSettings settings_;
};

}  // namespace

Sentence fault_of(const LineSettings& settings) {
    if (speed_of(settings.baud) == nullptr) return sentence<"baud">("baud"_is = settings.baud);
    if (settings.bits != 7 && settings.bits != 8) return sentence<"bits">();
    if (settings.parity != 'n' && settings.parity != 'e' && settings.parity != 'o')
        return sentence<"parity">();
    if (settings.stop_bits != 1 && settings.stop_bits != 2) return sentence<"stop-bits">();
    return {};
}

tl::expected<std::unique_ptr<Line>, Sentence> open_line(const std::string& device,
                                                        const LineSettings& settings) {
    if (auto fault = fault_of(settings); !fault.empty()) return tl::unexpected(std::move(fault));
    const auto trouble = [&](int fault) {
        return sentence<"line-of">("device"_is = device, "trouble"_is = trouble_of(fault));
    };
    const int handle = ::open(device.c_str(), O_RDWR | O_NOCTTY | O_NONBLOCK | O_CLOEXEC);
    if (handle < 0) return tl::unexpected(trouble(errno));
    if (::isatty(handle) == 0) {
        ::close(handle);
        return tl::unexpected(sentence<"no-line">("device"_is = device));
    }
    if (::flock(handle, LOCK_EX | LOCK_NB) != 0) {
        ::close(handle);
        return tl::unexpected(sentence<"line-in-use">("device"_is = device));
    }
    auto line = std::make_unique<TermiosLine>(handle, settings);
    if (!line->set()) return tl::unexpected(trouble(errno));
    ::ioctl(handle, TIOCEXCL);
    return line;
}

}  // namespace seatwright::place
