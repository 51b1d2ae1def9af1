#include "seatwright/live/channel.hpp"

#include <fmt/format.h>

namespace seatwright::live {

namespace {

constexpr double mm_per_inch = 25.4;  // exact (international yard and pound agreement, 1959)
constexpr double mm_per_um = 0.001;

double in_mm(double value, const std::string& unit) {
    if (unit == "in") return value * mm_per_inch;
    return unit == "um" ? value * mm_per_um : value;
}

bool reached(const Channel& channel, double value) {
    return (!channel.low || value >= *channel.low) && (!channel.high || value <= *channel.high);
}

std::string beyond(const Channel& channel, double value, const std::string& raw) {
    const std::string shown = channel.unit == "deg" ? "deg" : "mm";
    std::string words =
        fmt::format("{} is '{}', {:.4f} {}: that is beyond what can be reached ({} to {} {})", channel.what,
                    raw, value, shown, channel.low ? fmt::format("{:.3f}", *channel.low) : "any",
                    channel.high ? fmt::format("{:.3f}", *channel.high) : "any", shown);
    const double other = channel.unit == "in" ? value / mm_per_inch : value * mm_per_inch;
    if ((channel.unit == "mm" || channel.unit == "in") && reached(channel, other))
        words += fmt::format("; it would be right in {}: which unit does the source count in?",
                             channel.unit == "mm" ? "inches" : "millimetres");
    return words;
}

}  // namespace

tl::expected<double, std::string> value_of(const Channel& channel, const Observation& seen) {
    if (seen.unavailable)
        return tl::unexpected(
            fmt::format("{}: the source says it has no value now (UNAVAILABLE)", channel.what));
    if (seen.numbers.empty())
        return tl::unexpected(fmt::format("{} is '{}': that is no number", channel.what, seen.raw));
    if (channel.part >= seen.numbers.size())
        return tl::unexpected(fmt::format("{} is '{}': that has {} numbers, number {} of them was set up",
                                          channel.what, seen.raw, seen.numbers.size(), channel.part + 1));
    if (!seen.unit.empty() && seen.unit != channel.unit)
        return tl::unexpected(
            fmt::format("{} is '{}', in {}, and was set up in {}: switch the source over, or set the "
                        "feed up anew",
                        channel.what, seen.raw, seen.unit, channel.unit));
    const double value = channel.sign * in_mm(seen.numbers[channel.part], channel.unit);
    if (!reached(channel, value)) return tl::unexpected(beyond(channel, value, seen.raw));
    return value;
}

}  // namespace seatwright::live
