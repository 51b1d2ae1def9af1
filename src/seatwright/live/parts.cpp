#include "seatwright/live/parts.hpp"

#include <charconv>

#include "seatwright/live/figures.hpp"
#include "seatwright/live/mtconnect.hpp"
#include "seatwright/words/english_live.hpp"

namespace seatwright::live {

namespace {

std::string small(std::string_view text) {
    std::string out(text);
    for (char& c : out)
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    return out;
}

// Of a part's headers. None: there is none, or it is no number.
std::optional<std::size_t> length_of(std::string_view headers) {
    constexpr std::string_view name = "content-length:";
    const std::string text = small(headers);
    const auto at = text.find(name);
    if (at == std::string::npos) return std::nullopt;
    const auto value = trimmed(std::string_view(text).substr(at + name.size()));
    std::size_t size = 0;
    const auto [end, fault] = std::from_chars(value.data(), value.data() + value.size(), size);
    return fault == std::errc{} && end != value.data() ? std::optional(size) : std::nullopt;
}

struct Blank {
    std::size_t at = 0, size = 0;
};

// The empty line that ends a part's headers, from `from` on.
std::optional<Blank> blank_line(std::string_view text, std::size_t from) {
    const auto with_cr = text.find("\r\n\r\n", from), without = text.find("\n\n", from);
    if (with_cr == std::string_view::npos && without == std::string_view::npos) return std::nullopt;
    return with_cr < without ? Blank{with_cr, 4} : Blank{without, 2};
}

}  // namespace

std::optional<std::string> boundary_of(std::string_view content_type) {
    const std::string text = small(content_type);
    if (!trimmed(text).starts_with("multipart/")) return std::nullopt;
    constexpr std::string_view name = "boundary=";
    const auto at = text.find(name);
    if (at == std::string::npos) return std::nullopt;
    std::string_view value = trimmed(content_type.substr(at + name.size()));
    if (value.starts_with('"')) {
        value.remove_prefix(1);
        value = value.substr(0, value.find('"'));
    } else {
        value = trimmed(value.substr(0, value.find(';')));
    }
    constexpr std::size_t longest = 200;  // RFC 2046 says 70
    if (value.empty() || value.size() > longest) return std::nullopt;
    return std::string(value);
}

Parts::Parts(std::string boundary) : delimiter_("--" + std::move(boundary)) {}

bool Parts::next(std::string& part) {
    const auto begin = held_.find(delimiter_);
    if (begin == std::string::npos) return false;
    const auto headers = begin + delimiter_.size();
    if (held_.compare(headers, 2, "--") == 0) {
        ended_ = true;
        return false;
    }
    const auto blank = blank_line(held_, headers);
    if (!blank) return false;
    const auto body = blank->at + blank->size;
    const auto length = length_of(std::string_view(held_).substr(headers, blank->at - headers));
    if (length && *length > largest_document) {
        fault_ = sentence<"part-too-large">("bytes"_is = *length);
        return false;
    }
    const auto end = length ? body + *length : held_.find("\n" + delimiter_, body);
    if (end == std::string::npos || end > held_.size()) return false;
    part = std::string(trimmed(std::string_view(held_).substr(body, end - body)));
    held_.erase(0, end);
    return true;
}

std::vector<std::string> Parts::add(std::string_view bytes) {
    std::vector<std::string> whole;
    if (ended_ || !fault_.empty()) return whole;
    held_ += bytes;
    for (std::string part; next(part);)
        if (!part.empty()) whole.push_back(std::move(part));
    constexpr std::size_t headers_too = largest_document + (64 << 10);
    if (held_.size() > headers_too) fault_ = sentence<"endless-part">();
    if (ended_ || !fault_.empty()) held_.clear();
    return whole;
}

}  // namespace seatwright::live
