#include "seatwright/report/held_words.hpp"

#include <algorithm>

#include "seatwright/words/english_report.hpp"

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
        const std::string reason =
            without(of_valve ? name : in_words(sentence<"setup-of">("setup"_is = name), speech),
                    in_words(held.reason, speech));
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
        const List names = list_of(group.names, Join::commas);
        group.words.who = group.of_valves ? in_words(names, speech)
                          : group.names.size() > 1
                              ? in_words(sentence<"setups-held">("names"_is = names), speech)
                              : in_words(sentence<"setup-held">("names"_is = names), speech);
        out.push_back(std::move(group.words));
    }
    return out;
}

std::string words_of(const HeldWords& held, const Speech& speech) {
    std::string out = in_words(sentence<"held">("who"_is = held.who, "reason"_is = held.reason), speech);
    if (held.frees.empty()) return out;
    if (!out.ends_with('.') && !out.ends_with('?')) out += '.';
    return in_words(sentence<"what-frees">("held"_is = std::move(out), "frees"_is = held.frees), speech);
}

}  // namespace seatwright::report
