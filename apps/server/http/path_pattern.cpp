#include "server/http/path_pattern.hpp"

#include <algorithm>

namespace seatwright::server {

namespace {

constexpr std::size_t longest_number = 18, longest_word = 120;

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

bool is_word_letter(char c) {
    return is_digit(c) || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '.' || c == '_' ||
           c == '-';
}

// Splits the first segment off.
std::string_view next_segment(std::string_view& rest) {
    const auto slash = rest.find('/');
    const auto segment = rest.substr(0, slash);
    rest = slash == std::string_view::npos ? std::string_view{} : rest.substr(slash + 1);
    return segment;
}

}  // namespace

PathPattern::PathPattern(std::string_view path) {
    std::size_t count = 1 + static_cast<std::size_t>(std::count(path.begin(), path.end(), '/'));
    for (; count > 0; --count) {
        const auto text = next_segment(path);
        const bool place = text.starts_with('{') && text.ends_with('}');
        const bool number = text == "{id}" || text == "{version}" || text == "{person}";
        segments_.push_back({number  ? Takes::number
                             : place ? Takes::word
                                     : Takes::itself,
                             std::string(text)});
    }
}

bool PathPattern::fits(const Segment& segment, std::string_view text) {
    switch (segment.takes) {
        case Takes::itself:
            return text == segment.text;
        case Takes::number:
            return !text.empty() && text.size() <= longest_number &&
                   std::all_of(text.begin(), text.end(), is_digit);
        case Takes::word:
            return !text.empty() && text.size() <= longest_word &&
                   std::all_of(text.begin(), text.end(), is_word_letter);
    }
    return false;
}

std::optional<std::vector<std::string>> PathPattern::match(std::string_view path) const {
    const auto slashes = static_cast<std::size_t>(std::count(path.begin(), path.end(), '/'));
    if (slashes + 1 != segments_.size()) return std::nullopt;
    std::vector<std::string> parts;
    for (const auto& segment : segments_) {
        const auto text = next_segment(path);
        if (!fits(segment, text)) return std::nullopt;
        if (segment.takes != Takes::itself) parts.emplace_back(text);
    }
    return parts;
}

}  // namespace seatwright::server
