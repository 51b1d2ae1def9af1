#include "seatwright/toml/bytes.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstring>

namespace seatwright::toml {
namespace {

// Bytes TOML forbids everywhere: controls but tab, line feed and carriage return.
bool is_control(char c) {
    const auto byte = static_cast<unsigned char>(c);
    return (byte < 0x20 && c != '\t' && c != '\n' && c != '\r') || byte == 0x7F;
}

bool is_bad(std::string_view text, std::size_t at, std::size_t length) {
    const bool lone_return = text[at] == '\r' && (at + 1 >= text.size() || text[at + 1] != '\n');
    return length == 0 || is_control(text[at]) || lone_return;
}

std::string what_is_wrong(char c, std::size_t length) {
    const auto byte = static_cast<unsigned char>(c);
    return length == 0 ? fmt::format("byte 0x{:02X} is not UTF-8 text; save the file as UTF-8", byte)
                       : fmt::format("control byte 0x{:02X}; a job file is plain text", byte);
}

std::uint32_t feeds_in(std::string_view text) {
    return static_cast<std::uint32_t>(std::count(text.begin(), text.end(), '\n'));
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

int characters(std::string_view text) {
    const auto begins_one = [](char c) { return (static_cast<unsigned char>(c) & 0xC0u) != 0x80u; };
    return static_cast<int>(std::count_if(text.begin(), text.end(), begins_one));
}

BadBytes bad_bytes(std::string_view text, std::size_t most) {
    BadBytes out;
    int line = 1;
    for (std::size_t at = 0; at < text.size();) {
        const char c = text[at];
        if (c >= 0x20 && c < 0x7F) {
            ++at;
        } else if (c == '\n') {
            ++line;
            ++at;
        } else {
            const std::size_t length = sequence_length(text, at);
            if (is_bad(text, at, length)) {
                if (out.first.size() < most)
                    out.first.push_back({at, line, what_is_wrong(c, length)});
                else
                    ++out.more;
                at = std::min(text.find('\n', at), text.size());
            } else {
                at += length;
            }
        }
    }
    return out;
}

Lines::Lines(std::string_view text) : text_(text) {
    before_.reserve(text.size() / stride + 1);
    std::uint32_t feeds = 0;
    for (std::size_t at = 0; at <= text.size(); at += stride) {
        before_.push_back(feeds);
        feeds += feeds_in(text.substr(at, stride));
    }
}

int Lines::line_of(std::size_t at) const {
    at = std::min(at, text_.size());
    const std::size_t block = at / stride;
    const auto here = feeds_in(text_.substr(block * stride, at - block * stride));
    return static_cast<int>(before_[block] + here) + 1;
}

std::size_t Lines::begin(std::size_t at) const {
    if (at == 0) return 0;
    const auto feed = text_.rfind('\n', at - 1);
    return feed == std::string_view::npos ? 0 : feed + 1;
}

std::size_t Lines::end(std::size_t at) const {
    const auto feed = text_.find('\n', at);
    return feed == std::string_view::npos ? text_.size() : feed + 1;
}

}  // namespace seatwright::toml
