#include "seatwright/job/plain_text.hpp"

#include <fmt/format.h>

namespace seatwright::job {
namespace {

// Bytes TOML forbids everywhere: controls but tab, line feed and carriage return.
bool is_control(char c) {
    const auto byte = static_cast<unsigned char>(c);
    return (byte < 0x20 && c != '\t' && c != '\n' && c != '\r') || byte == 0x7F;
}

}  // namespace

std::size_t sequence_length(std::string_view text, std::size_t at) {
    const auto byte = [&](std::size_t i) -> unsigned {
        return at + i < text.size() ? static_cast<unsigned char>(text[at + i]) : 0u;
    };
    const auto tail = [&](std::size_t i) { return (byte(i) & 0xC0u) == 0x80u; };
    const unsigned lead = byte(0);
    if (lead < 0x80) return 1;
    if (lead >= 0xC2 && lead <= 0xDF) return tail(1) ? 2 : 0;
    if (lead >= 0xE0 && lead <= 0xEF) {
        if (lead == 0xE0 && byte(1) < 0xA0) return 0;
        if (lead == 0xED && byte(1) > 0x9F) return 0;
        return tail(1) && tail(2) ? 3 : 0;
    }
    if (lead >= 0xF0 && lead <= 0xF4) {
        if (lead == 0xF0 && byte(1) < 0x90) return 0;
        if (lead == 0xF4 && byte(1) > 0x8F) return 0;
        return tail(1) && tail(2) && tail(3) ? 4 : 0;
    }
    return 0;
}

std::optional<Fault> check_bytes(std::string_view text, const std::string& file) {
    int line = 1;
    for (std::size_t at = 0; at < text.size();) {
        const auto byte = static_cast<unsigned char>(text[at]);
        const std::size_t length = sequence_length(text, at);
        if (length == 0)
            return Fault{file, line, std::string(of_the_text),
                         fmt::format("byte 0x{:02X} is not UTF-8 text; save the file as UTF-8", byte)};
        const bool lone_return = text[at] == '\r' && (at + 1 >= text.size() || text[at + 1] != '\n');
        if (is_control(text[at]) || lone_return)
            return Fault{file, line, std::string(of_the_text),
                         fmt::format("control byte 0x{:02X}; a job file is plain text", byte)};
        if (text[at] == '\n') ++line;
        at += length;
    }
    return std::nullopt;
}

}  // namespace seatwright::job
