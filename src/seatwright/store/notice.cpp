#include "seatwright/store/notice.hpp"

#include <fmt/format.h>

#include <charconv>

namespace seatwright::store {

std::string to_text(const Notice& n) {
    return fmt::format("{} {} {} {}", n.shop, n.sender, n.first, n.last);
}

std::optional<Notice> notice_of(const std::string& text) {
    Notice n;
    const char *at = text.data(), *const end = text.data() + text.size();
    for (long long* number : {&n.shop, &n.sender, &n.first, &n.last}) {
        if (number != &n.shop && (at == end || *at++ != ' ')) return std::nullopt;
        const auto [behind, fault] = std::from_chars(at, end, *number);
        if (fault != std::errc()) return std::nullopt;
        at = behind;
    }
    return at == end ? std::optional(n) : std::nullopt;
}

}  // namespace seatwright::store
