#include "times.hpp"

#include <chrono>
#include <regex>

namespace seatwright::server {

std::optional<long long> ms_of(const std::string& text) {
    static const std::regex form(R"((\d{4})-(\d\d)-(\d\d)T(\d\d):(\d\d):(\d\d)(?:\.(\d{3}))?Z)");
    std::smatch part;
    if (!std::regex_match(text, part, form)) return std::nullopt;
    const auto number = [&](std::size_t i) { return part[i].matched ? std::stoi(part[i].str()) : 0; };
    using namespace std::chrono;
    const year_month_day day{year(number(1)), month(static_cast<unsigned>(number(2))),
                             std::chrono::day(static_cast<unsigned>(number(3)))};
    if (!day.ok() || number(4) > 23 || number(5) > 59 || number(6) > 60) return std::nullopt;
    const auto since = sys_days(day).time_since_epoch() + hours(number(4)) + minutes(number(5)) +
                       seconds(number(6)) + milliseconds(number(7));
    return duration_cast<milliseconds>(since).count();
}

}  // namespace seatwright::server
