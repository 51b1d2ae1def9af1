#include "seatwright/live/clock_watch.hpp"

#include <algorithm>

#include "seatwright/words/english_live.hpp"

namespace seatwright::live {

namespace {
constexpr double ms_per_s = 1000;
constexpr std::size_t most_keys = 1000;
}  // namespace

ClockWatch::Judged ClockWatch::judge(const Observation& seen, Ms now) {
    if (!seen.stated) return {};
    const Ms took = now - *seen.stated;
    const auto seconds = [](Ms ms) { return as_number(static_cast<double>(ms) / ms_per_s); };
    if (took < -ahead) return {sentence<"clock-ahead">("seconds"_is = seconds(-took)), false};
    if (seen.standing) return {};
    const auto [last, is_new] = last_.size() < most_keys || last_.count(seen.key) > 0
                                    ? last_.emplace(seen.key, *seen.stated)
                                    : std::pair(last_.end(), true);
    const bool backwards = !is_new && *seen.stated < last->second;
    if (last != last_.end()) last->second = *seen.stated;
    if (backwards) return {sentence<"clock-backwards">(), false};
    least_ = std::min(least_.value_or(took), took);
    if (took - *least_ > late) return {sentence<"late">("seconds"_is = seconds(took - *least_)), true};
    if (*least_ > far_off) return {sentence<"clock-behind">("seconds"_is = seconds(*least_)), false};
    return {};
}

}  // namespace seatwright::live
