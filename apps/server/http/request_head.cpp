#include "server/http/request_head.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>

namespace seatwright::server {

namespace {

constexpr std::string_view line_end = "\r\n";
constexpr std::array<std::string_view, 6> methods{"GET", "HEAD", "POST", "PUT", "PATCH", "DELETE"};

char small_letter(char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

std::string small_letters(std::string_view text) {
    std::string out(text);
    std::transform(out.begin(), out.end(), out.begin(), small_letter);
    return out;
}

// RFC 9110, 5.6.2: the letters of a header's name.
bool is_name_letter(char c) {
    constexpr std::string_view others = "!#$%&'*+-.^_`|~";
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
           others.find(c) != std::string_view::npos;
}

bool is_control(char c) {
    return (static_cast<unsigned char>(c) < 0x20 && c != '\t') || c == 0x7F;
}

std::string_view trimmed(std::string_view text) {
    const auto blank = [](char c) { return c == ' ' || c == '\t'; };
    while (!text.empty() && blank(text.front())) text.remove_prefix(1);
    while (!text.empty() && blank(text.back())) text.remove_suffix(1);
    return text;
}

struct Header {
    std::string name;  // small letters
    std::string_view value;
};

tl::expected<Header, HttpError> header_of(std::string_view line) {
    const auto colon = line.find(':');
    const std::string_view name = line.substr(0, colon);
    const bool good = colon != std::string_view::npos && !name.empty() &&
                      std::all_of(name.begin(), name.end(), is_name_letter) &&
                      std::none_of(line.begin(), line.end(), is_control);
    if (!good)
        return tl::unexpected(
            http_error(400, "the request cannot be read: a header line is not Name: value"));
    return Header{small_letters(name), trimmed(line.substr(colon + 1))};
}

tl::expected<unsigned long long, HttpError> length_of(std::string_view value) {
    unsigned long long length = 0;
    const char* end = value.data() + value.size();
    const auto read = std::from_chars(value.data(), end, length);
    if (value.empty() || read.ec != std::errc() || read.ptr != end)
        return tl::unexpected(
            http_error(400, "the request cannot be read: its Content-Length is not a number"));
    return length;
}

// What is wrong with a body this header tells of; nothing for all others.
std::optional<HttpError> wrong_body(const Header& header) {
    if (header.name == "transfer-encoding")
        return http_error(411, "a body needs its length before it: send it with a Content-Length");
    if (header.name == "content-encoding" && small_letters(header.value) != "identity")
        return http_error(415,
                          "bodies are taken as they are, not packed: send it without a Content-Encoding");
    if (header.name == "content-type" && small_letters(header.value).starts_with("multipart/"))
        return http_error(400, "bodies are JSON: Content-Type application/json");
    return std::nullopt;
}

}  // namespace

std::size_t RequestHeadReader::take(std::string_view bytes) {
    std::size_t taken = 0;
    while (taken < bytes.size() && !whole_ && !refused_) {
        if (text_.size() == longest_head) {
            refused_ =
                http_error(431, fmt::format("the request's head is longer than {} KiB", longest_head >> 10));
            break;
        }
        const char c = bytes[taken++];
        text_ += c;
        if (c == '\n') {
            end_line();
        } else if (text_.size() - line_ >= longest_line) {
            refused_ = lines_ == 0
                           ? http_error(414, fmt::format("the address asked for is longer than {} KiB",
                                                         longest_line >> 10))
                           : http_error(431, fmt::format("a header line of the request is longer than {} KiB",
                                                         longest_line >> 10));
        }
    }
    return taken;
}

void RequestHeadReader::end_line() {
    const auto line = std::string_view(text_).substr(line_);
    if (!line.ends_with(line_end)) {
        refused_ = http_error(400, "the request cannot be read: its lines do not end in CR LF");
        return;
    }
    whole_ = line == line_end && lines_ > 0;
    line_ = text_.size();
    ++lines_;
    // The first line is no header.
    if (!whole_ && lines_ > most_headers + 1)
        refused_ = http_error(431, fmt::format("the request has more than {} header lines", most_headers));
}

tl::expected<unsigned long long, HttpError> judged(std::string_view text) {
    const auto first_end = text.find(line_end);
    const std::string_view first = text.substr(0, first_end);
    const std::string_view method = first.substr(0, first.find(' '));
    if (std::any_of(first.begin(), first.end(), is_control))
        return tl::unexpected(
            http_error(400, "the request cannot be read: its first line has control bytes"));
    if (std::find(methods.begin(), methods.end(), method) == methods.end())
        return tl::unexpected(http_error(405, "only GET, HEAD, POST, PUT, PATCH and DELETE are answered"));
    std::optional<unsigned long long> length;
    for (std::size_t at = first.size() + line_end.size(); at < text.size();) {
        const auto end = text.find(line_end, at);
        const std::string_view line = text.substr(at, end - at);
        at = end + line_end.size();
        if (line.empty()) break;
        const auto header = header_of(line);
        if (!header) return tl::unexpected(header.error());
        if (const auto wrong = wrong_body(*header)) return tl::unexpected(*wrong);
        if (header->name != "content-length") continue;
        if (length)
            return tl::unexpected(http_error(400, "the request cannot be read: it has two Content-Lengths"));
        const auto given = length_of(header->value);
        if (!given) return tl::unexpected(given.error());
        length = *given;
    }
    if (length.value_or(0) > 0 && (method == "GET" || method == "HEAD"))
        return tl::unexpected(http_error(400, "a GET or HEAD has no body here"));
    return length.value_or(0);
}

}  // namespace seatwright::server
