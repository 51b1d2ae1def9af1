#include "seatwright/live/figures.hpp"

#include <charconv>
#include <chrono>
#include <cmath>

namespace seatwright::live {

namespace {

constexpr std::size_t longest_number = 40, most_numbers = 64;

bool blank(char c) {
    return static_cast<unsigned char>(c) <= ' ' || c == '\x7f';
}

// So many digits from `at` on, which moves behind them.
std::optional<int> digits(std::string_view text, std::size_t& at, std::size_t count) {
    int value = 0;
    for (std::size_t i = 0; i < count; ++i, ++at) {
        if (at >= text.size() || text[at] < '0' || text[at] > '9') return std::nullopt;
        value = value * 10 + (text[at] - '0');
    }
    return value;
}

bool sign(std::string_view text, std::size_t& at, char wanted) {
    if (at >= text.size() || text[at] != wanted) return false;
    ++at;
    return true;
}

// ".5" as 500; 0 where there is no point. None: a point without digits.
std::optional<int> decimals(std::string_view text, std::size_t& at) {
    if (!sign(text, at, '.') && !sign(text, at, ',')) return 0;
    int value = 0;
    std::size_t seen = 0;
    for (; at < text.size() && text[at] >= '0' && text[at] <= '9'; ++at, ++seen)
        if (seen < 3) value = value * 10 + (text[at] - '0');
    if (seen == 0) return std::nullopt;
    for (; seen < 3; ++seen) value *= 10;
    return value;
}

// What is to be taken from the time to be in UTC, in minutes.
std::optional<int> zone(std::string_view text, std::size_t& at) {
    if (at == text.size() || sign(text, at, 'Z')) return 0;
    const int direction = sign(text, at, '-') ? -1 : 1;
    if (direction > 0 && !sign(text, at, '+')) return std::nullopt;
    const auto hours = digits(text, at, 2);
    sign(text, at, ':');
    const auto minutes = digits(text, at, 2);
    if (!hours || !minutes || *hours > 14 || *minutes > 59) return std::nullopt;
    return direction * (*hours * 60 + *minutes);
}

}  // namespace

std::string_view trimmed(std::string_view text) {
    while (!text.empty() && blank(text.front())) text.remove_prefix(1);
    while (!text.empty() && blank(text.back())) text.remove_suffix(1);
    return text;
}

std::optional<double> number_of(std::string_view text) {
    text = trimmed(text);
    if (text.starts_with('+')) {
        text.remove_prefix(1);
        if (text.starts_with('-')) return std::nullopt;
    }
    if (text.empty() || text.size() > longest_number) return std::nullopt;
    double value = 0;
    const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (fault != std::errc{} || end != text.data() + text.size() || !std::isfinite(value))
        return std::nullopt;
    return value;
}

std::vector<double> numbers_of(std::string_view text) {
    std::vector<double> all;
    for (text = trimmed(text); !text.empty(); text = trimmed(text)) {
        std::size_t size = 0;
        while (size < text.size() && !blank(text[size])) ++size;
        const auto one = number_of(text.substr(0, size));
        if (!one || all.size() == most_numbers) return {};
        all.push_back(*one);
        text.remove_prefix(size);
    }
    return all;
}

std::optional<Ms> time_of(std::string_view text) {
    text = trimmed(text);
    std::size_t at = 0;
    const auto year = digits(text, at, 4);
    if (!year || !sign(text, at, '-')) return std::nullopt;
    const auto month = digits(text, at, 2);
    if (!month || !sign(text, at, '-')) return std::nullopt;
    const auto day = digits(text, at, 2);
    if (!day || !sign(text, at, 'T')) return std::nullopt;
    const auto hour = digits(text, at, 2);
    if (!hour || !sign(text, at, ':')) return std::nullopt;
    const auto minute = digits(text, at, 2);
    if (!minute || !sign(text, at, ':')) return std::nullopt;
    const auto second = digits(text, at, 2);
    if (!second) return std::nullopt;
    const auto ms = decimals(text, at);
    if (!ms) return std::nullopt;
    const auto off = zone(text, at);
    if (!off || at != text.size() || *hour > 23 || *minute > 59 || *second > 60) return std::nullopt;
    using namespace std::chrono;
    const year_month_day date{std::chrono::year{*year}, std::chrono::month{static_cast<unsigned>(*month)},
                              std::chrono::day{static_cast<unsigned>(*day)}};
    if (!date.ok()) return std::nullopt;
    const auto whole = sys_days{date} + hours{*hour} + minutes{*minute - *off} + seconds{*second} +
                       std::chrono::milliseconds{*ms};
    return duration_cast<std::chrono::milliseconds>(whole.time_since_epoch()).count();
}

}  // namespace seatwright::live
