#include "seatwright/live/clock_watch.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace seatwright::live {

namespace {
constexpr double ms_per_s = 1000;
constexpr std::size_t most_keys = 1000;
}  // namespace

ClockWatch::Judged ClockWatch::judge(const Observation& seen, Ms now) {
    if (!seen.stated) return {};
    const Ms took = now - *seen.stated;
    const double seconds = static_cast<double>(took) / ms_per_s;
    if (took < -ahead)
        return {
            fmt::format("the source's clock is {:.0f} s ahead of the workbench's: its times are not believed",
                        -seconds),
            false};
    if (seen.standing) return {};
    const auto [last, is_new] = last_.size() < most_keys || last_.count(seen.key) > 0
                                    ? last_.emplace(seen.key, *seen.stated)
                                    : std::pair(last_.end(), true);
    const bool backwards = !is_new && *seen.stated < last->second;
    if (last != last_.end()) last->second = *seen.stated;
    if (backwards) return {"the source's times run backwards: they are not believed", false};
    least_ = std::min(least_.value_or(took), took);
    if (took - *least_ > late)
        return {fmt::format("this came {:.0f} s late: it is not what stands now",
                            static_cast<double>(took - *least_) / ms_per_s),
                true};
    if (*least_ > far_off)
        return {
            fmt::format("the source's clock is {:.0f} s behind the workbench's: its times are not believed",
                        static_cast<double>(*least_) / ms_per_s),
            false};
    return {};
}

}  // namespace seatwright::live
