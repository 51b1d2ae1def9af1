#include "server/intake/times.hpp"

#include <chrono>
#include <ctime>
#include <string_view>

namespace seatwright::server {

namespace {

// 'd' stands for a digit, any other letter for itself.
bool has_form(std::string_view text, std::string_view form) {
    if (text.size() != form.size()) return false;
    for (std::size_t i = 0; i < form.size(); ++i)
        if (form[i] == 'd' ? text[i] < '0' || text[i] > '9' : text[i] != form[i]) return false;
    return true;
}

}  // namespace

std::optional<long long> ms_of_typed(const std::string& text) {
    std::string whole = text;
    if (whole.size() > 10 && whole[10] == ' ') whole[10] = 'T';
    if (has_form(whole, "dddd-dd-ddTdd:dd")) whole += ":00";
    if (whole.ends_with('Z')) return ms_of(whole);
    // The same figures as if they were UTC, then the zone's distance from it on that day.
    const auto as_utc = ms_of(whole + "Z");
    if (!as_utc) return std::nullopt;
    constexpr long long second = 1000;
    const auto seconds = static_cast<std::time_t>(*as_utc / second);
    std::tm figures{};
    ::gmtime_r(&seconds, &figures);
    figures.tm_isdst = -1;
    const std::time_t local = ::mktime(&figures);
    return static_cast<long long>(local) * second + *as_utc % second;
}

std::optional<long long> ms_of(const std::string& text) {
    const bool with_ms = has_form(text, "dddd-dd-ddTdd:dd:dd.dddZ");
    if (!with_ms && !has_form(text, "dddd-dd-ddTdd:dd:ddZ")) return std::nullopt;
    const auto number = [&](std::size_t at, std::size_t digits) {
        return std::stoi(text.substr(at, digits));
    };
    using namespace std::chrono;
    const year_month_day day{year(number(0, 4)), month(static_cast<unsigned>(number(5, 2))),
                             std::chrono::day(static_cast<unsigned>(number(8, 2)))};
    const int hour = number(11, 2), minute = number(14, 2), second = number(17, 2);
    if (!day.ok() || hour > 23 || minute > 59 || second > 60) return std::nullopt;
    const auto since = sys_days(day).time_since_epoch() + hours(hour) + minutes(minute) + seconds(second) +
                       milliseconds(with_ms ? number(20, 3) : 0);
    return duration_cast<milliseconds>(since).count();
}

}  // namespace seatwright::server
