#include "server/http/message.hpp"

#include <algorithm>

namespace seatwright::server {

namespace {

bool same_name(std::string_view a, std::string_view b) {
    const auto small = [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; };
    return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                      [&](char x, char y) { return small(x) == small(y); });
}

int hex_digit(char c) {
    if (c >= '0' && c <= '9') return c - '0';
    if (c >= 'a' && c <= 'f') return c - 'a' + 10;
    if (c >= 'A' && c <= 'F') return c - 'A' + 10;
    return -1;
}

// A percent sign without two hexadecimal digits stands for itself.
std::string decoded(std::string_view text, bool plus_is_blank) {
    std::string out;
    out.reserve(text.size());
    for (std::size_t i = 0; i < text.size(); ++i) {
        const bool coded = text[i] == '%' && i + 2 < text.size() && hex_digit(text[i + 1]) >= 0 &&
                           hex_digit(text[i + 2]) >= 0;
        if (coded) {
            out += static_cast<char>(hex_digit(text[i + 1]) * 16 + hex_digit(text[i + 2]));
            i += 2;
        } else {
            out += plus_is_blank && text[i] == '+' ? ' ' : text[i];
        }
    }
    return out;
}

}  // namespace

std::string_view Request::header(std::string_view name) const {
    for (const auto& [key, value] : headers)
        if (same_name(key, name)) return value;
    return {};
}

std::string_view Request::last_header(std::string_view name) const {
    std::string_view last;
    for (const auto& [key, value] : headers)
        if (same_name(key, name)) last = value;
    return last;
}

std::string Request::param(std::string_view name) const {
    for (const auto& [key, value] : query)
        if (key == name) return value;
    return {};
}

bool take_target(Request& request, std::string_view target) {
    if (!target.starts_with('/')) return false;
    const auto mark = std::min(target.find('?'), target.size());
    request.path = decoded(target.substr(0, mark), false);
    for (std::size_t at = mark + 1; at < target.size();) {
        const auto end = std::min(target.find('&', at), target.size());
        const std::string_view one = target.substr(at, end - at);
        const auto equals = std::min(one.find('='), one.size());
        if (!one.empty())
            request.query.emplace_back(decoded(one.substr(0, equals), true),
                                       decoded(one.substr(std::min(equals + 1, one.size())), true));
        at = end + 1;
    }
    return true;
}

void Response::set_header(std::string_view name, std::string_view value) {
    for (auto& [key, old] : headers)
        if (same_name(key, name)) {
            old = value;
            return;
        }
    headers.emplace_back(name, value);
}

void Response::set_content(std::string content, std::string_view of) {
    text = std::move(content);
    media = of;
}

void Response::set_fixed(std::string_view bytes, std::string_view of) {
    fixed = bytes;
    media = of;
}

}  // namespace seatwright::server
