#include "seatwright/report/held_words.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace seatwright::report {

namespace {

std::string without(const std::string& name, const std::string& reason) {
    return reason.starts_with(name + ": ") ? reason.substr(name.size() + 2) : reason;
}

struct HeldGroup {
    HeldWords words;
    bool of_valves = false;
    std::vector<std::string> names;
};

}  // namespace

std::vector<HeldWords> gathered(const std::vector<HeldBack>& held_back, const Speech& speech) {
    std::vector<HeldGroup> groups;
    for (const HeldBack& held : held_back) {
        const bool of_valve = held.valve.has_value();
        const std::string name = of_valve ? *held.valve : held.setup;
        const std::string reason = without(of_valve ? name : "setup " + name, in_words(held.reason, speech));
        const std::string frees = in_words(held.frees, speech);
        auto at = std::find_if(groups.begin(), groups.end(), [&](const HeldGroup& group) {
            return group.of_valves == of_valve && group.words.reason == reason && group.words.frees == frees;
        });
        if (at == groups.end())
            at = groups.insert(groups.end(), HeldGroup{{"", reason, frees}, of_valve, {}});
        at->names.push_back(name);
    }
    std::vector<HeldWords> out;
    out.reserve(groups.size());
    for (HeldGroup& group : groups) {
        if (!group.of_valves) group.words.who = group.names.size() > 1 ? "Setups " : "Setup ";
        for (std::size_t i = 0; i < group.names.size(); ++i)
            group.words.who += (i > 0 ? ", " : "") + group.names[i];
        out.push_back(std::move(group.words));
    }
    return out;
}

std::string words_of(const HeldWords& held) {
    std::string out = fmt::format("{}: {}", held.who, held.reason);
    if (held.frees.empty()) return out;
    if (!out.ends_with('.') && !out.ends_with('?')) out += '.';
    return out + " What frees it: " + held.frees;
}

}  // namespace seatwright::report
