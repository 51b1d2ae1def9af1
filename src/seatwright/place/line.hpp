// A serial line, as programs and gauges use it. Behind an interface, since the wires of the handshake cannot
// be had from a pseudo-terminal: a test has a line of its own.
#pragma once

#include <chrono>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <tl/expected.hpp>

namespace seatwright::place {

enum class Handshake {
    none,
    xon_xoff,  // the other side sends DC3 to hold us and DC1 to go on (ISO 646 device controls)
    rts_cts    // by the wire "clear to send" (ITU-T V.24, circuit 106)
};

struct LineSettings {
    int baud = 9600;
    int bits = 8;
    char parity = 'n';  // 'n', 'e', 'o'
    int stop_bits = 1;
    Handshake handshake = Handshake::none;
};

using Wait = std::chrono::milliseconds;

class Line {
  public:
    Line() = default;
    virtual ~Line() = default;
    Line(const Line&) = delete;
    Line& operator=(const Line&) = delete;

    // How many of the bytes the line took within `wait`, 0 while it is held. Error: the errno.
    virtual tl::expected<std::size_t, int> write(std::string_view bytes, Wait wait) = 0;
    // What has come, or comes first within `wait`; empty: nothing. Error: the errno.
    virtual tl::expected<std::string, int> read(Wait wait) = 0;
    // Whether the other side is clear to send to; none: the line has no such wire.
    virtual std::optional<bool> clear_to_send() = 0;
    // How many bytes the line has taken and not yet sent out.
    virtual std::size_t unsent() = 0;
    // Throws away what has not gone out yet: a stopped sending ends at once.
    virtual void drop_unsent() = 0;
    // From here on the line itself obeys the settings' handshake; until then DC1 and DC3 are read like any
    // byte.
    virtual void begin_handshake() = 0;
};

}  // namespace seatwright::place
