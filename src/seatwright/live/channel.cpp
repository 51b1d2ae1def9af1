#include "seatwright/live/channel.hpp"

#include "seatwright/base/units.hpp"
#include "seatwright/words/english_live.hpp"

namespace seatwright::live {

namespace {

constexpr double mm_per_um = 0.001;

double in_mm(double value, const std::string& unit) {
    if (unit == "in") return value * mm_per_inch;
    return unit == "um" ? value * mm_per_um : value;
}

bool reached(const Channel& channel, double value) {
    return (!channel.low || value >= *channel.low) && (!channel.high || value <= *channel.high);
}

Figure shown(const Channel& channel, double value, bool is_limit) {
    if (channel.unit == "deg") return as_degrees(rad(value), is_limit ? 3 : 4);
    return is_limit ? as_length(value) : as_fine(value);
}

// Of a channel that has one of them.
Sentence range_of(const Channel& channel) {
    if (!channel.low) return sentence<"at-most">("high"_is = shown(channel, *channel.high, true));
    if (!channel.high) return sentence<"at-least">("low"_is = shown(channel, *channel.low, true));
    return sentence<"from-to">("low"_is = shown(channel, *channel.low, true),
                               "high"_is = shown(channel, *channel.high, true));
}

Sentence beyond(const Channel& channel, double value, const std::string& text) {
    const auto what = "what"_is = channel.what;
    const auto raw = "raw"_is = text;
    const auto is = "value"_is = shown(channel, value, false);
    const auto range = "range"_is = range_of(channel);
    const double other = channel.unit == "in" ? value / mm_per_inch : value * mm_per_inch;
    if (channel.unit == "mm" && reached(channel, other))
        return sentence<"beyond-in-inches">(what, raw, is, range);
    if (channel.unit == "in" && reached(channel, other))
        return sentence<"beyond-in-millimetres">(what, raw, is, range);
    return sentence<"beyond">(what, raw, is, range);
}

}  // namespace

tl::expected<double, Sentence> value_of(const Channel& channel, const Observation& seen) {
    if (seen.unavailable) return tl::unexpected(sentence<"unavailable">("what"_is = channel.what));
    if (seen.numbers.empty())
        return tl::unexpected(sentence<"no-number">("what"_is = channel.what, "raw"_is = seen.raw));
    if (channel.part >= seen.numbers.size())
        return tl::unexpected(sentence<"too-few-numbers">("what"_is = channel.what, "raw"_is = seen.raw,
                                                          "count"_is = seen.numbers.size(),
                                                          "wanted"_is = channel.part + 1));
    if (!seen.unit.empty() && seen.unit != channel.unit)
        return tl::unexpected(sentence<"other-unit">("what"_is = channel.what, "raw"_is = seen.raw,
                                                     "unit"_is = seen.unit, "set_up"_is = channel.unit));
    const double value = channel.sign * in_mm(seen.numbers[channel.part], channel.unit);
    if (!reached(channel, value)) return tl::unexpected(beyond(channel, value, seen.raw));
    return value;
}

}  // namespace seatwright::live
