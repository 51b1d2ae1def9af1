#include "seatwright/live/watch.hpp"

#include <algorithm>
#include <array>
#include <utility>

#include "seatwright/words/english_live.hpp"

namespace seatwright::live {

namespace {

std::vector<double> still_of(const WatchSettings& settings) {
    std::vector<double> all;
    for (const auto& one : settings.channels)
        all.push_back(one.unit == "deg" ? settings.still.still_deg : settings.still.still);
    return all;
}

}  // namespace

Watch::Watch(WatchSettings settings)
    : settings_(std::move(settings)),
      stillness_(settings_.still.dwell, still_of(settings_)),
      known_(settings_.channels.size()) {}

// True when it goes from released to pressed; as it is first seen it may have been so for hours.
bool Watch::pressed(const Observation& seen) {
    static constexpr std::array<std::string_view, 7> words{"ACTIVE", "ON",     "1", "TRUE",
                                                           "true",   "CLOSED", "on"};
    if (settings_.pedal_key.empty() || seen.key != settings_.pedal_key || seen.unavailable) return false;
    const bool down = std::find(words.begin(), words.end(), seen.raw) != words.end();
    const auto before = std::exchange(pedal_, down);
    return down && before && !*before && !seen.standing;
}

void Watch::note(std::size_t which, const Observation& seen, bool late, Ms now) {
    Known& known = known_[which];
    const Channel& channel = settings_.channels[which];
    const auto value =
        late ? tl::expected<double, Sentence>(
                   tl::unexpect, sentence<"of-what">("what"_is = channel.what, "why"_is = remark_))
             : value_of(channel, seen);
    if (!value) {
        known = {std::nullopt, value.error()};
        stillness_.forget(which);
        return;
    }
    known = {Reading{channel.what, *value, seen.raw, seen.stated}, {}};
    stillness_.see(which, *value, now);
}

std::optional<Proposed> Watch::see(const Observation& seen, Ms now) {
    heard_ = now;
    const auto is_of = [&](const Channel& one) { return one.key.empty() || one.key == seen.key; };
    const bool fresh = std::any_of(settings_.channels.begin(), settings_.channels.end(), is_of);
    if (fresh) {
        const auto judged = clock_.judge(seen, now);
        remark_ = judged.words;
        for (std::size_t which = 0; which < settings_.channels.size(); ++which)
            if (is_of(settings_.channels[which])) note(which, seen, judged.late, now);
    }
    if (pressed(seen) && settings_.decides == Decides::pedal)
        if (auto taken = take(now, Decides::pedal)) return *taken;
    if (fresh && settings_.decides == Decides::each && !seen.standing)
        if (auto taken = take(now, Decides::each)) return *taken;
    return std::nullopt;
}

std::optional<Proposed> Watch::rest(Ms now) {
    if (settings_.decides != Decides::stillness || stale(now) || !stillness_.came_to_rest(now))
        return std::nullopt;
    if (auto taken = take(now, Decides::stillness)) return *taken;
    return std::nullopt;
}

tl::expected<Proposed, Sentence> Watch::take(Ms now, Decides by) const {
    if (stale(now))
        return tl::unexpected(heard_ ? sentence<"not-heard">("source"_is = settings_.name,
                                                             "seconds"_is = (now - *heard_) / 1000)
                                     : sentence<"never-heard">("source"_is = settings_.name));
    Proposed proposed{settings_.name, by, now, {}, remark_};
    for (std::size_t which = 0; which < known_.size(); ++which) {
        const Known& known = known_[which];
        if (!known.reading)
            return tl::unexpected(known.refused.empty()
                                      ? sentence<"nothing-came">("what"_is = settings_.channels[which].what)
                                      : known.refused);
        proposed.readings.push_back(*known.reading);
    }
    return proposed;
}

void Watch::lost() {
    for (auto& known : known_) known = {};
    stillness_.forget();
    clock_ = {};
    heard_.reset();
    pedal_.reset();
    remark_ = {};
}

Standing Watch::standing(Ms now) const {
    Standing standing;
    standing.stale = stale(now);
    standing.remark = remark_;
    for (std::size_t which = 0; which < known_.size(); ++which) {
        const auto& what = settings_.channels[which].what;
        if (known_[which].reading)
            standing.values[what] = *known_[which].reading;
        else if (!known_[which].refused.empty())
            standing.refused[what] = known_[which].refused;
    }
    return standing;
}

}  // namespace seatwright::live
