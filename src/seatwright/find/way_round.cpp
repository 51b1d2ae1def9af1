#include "seatwright/find/way_round.hpp"

#include <algorithm>

#include "seatwright/find/pattern.hpp"
#include "seatwright/hold/attitude.hpp"
#include "seatwright/job/kind_word.hpp"
#include "seatwright/words/english_find.hpp"

namespace seatwright::find {

namespace {

constexpr const char *lies_key = "head.lies", *lies_as_declared = "as declared";

bool looks_the_same(std::span<const Expected> guides, double touch_sd) {
    const auto alike = look_alikes(guides, touch_sd);
    return std::find(alike.begin(), alike.end(), Pattern::end_for_end) != alike.end();
}

bool pilots_would_enter(const job::Job& job, const hold::Setup& setup) {
    return std::all_of(setup.valves.begin(), setup.valves.end(), [&](const hold::Held& held) {
        const Vec3 axis = job.head.valves[held.valve].axis();
        return hold::plumb_error(Vec3(-axis.x(), -axis.y(), axis.z()), {setup.tilt, setup.swing}) <=
               takes_no_pilot;
    });
}

bool kinds_change_places(const job::Job& job, const hold::Setup& setup, std::span<const Expected> guides) {
    const auto kind = [&](std::size_t guide) { return job.head.valves[setup.valves[guide].valve].kind; };
    for (const Hypothesis& way : other_ways_round(guides)) {
        if (way.pattern != Pattern::end_for_end) continue;
        for (std::size_t i = 0; i < way.true_name.size(); ++i)
            if (kind(i) != kind(way.true_name[i])) return true;
    }
    return false;
}

}  // namespace

std::optional<job::Doubt> way_round_doubt(const job::Job& job, const hold::Setup& setup,
                                          std::span<const Expected> guides, double touch_sd) {
    if (job::is_sure(job, lies_key, lies_as_declared) || setup.valves.empty() ||
        !looks_the_same(guides, touch_sd) || !pilots_would_enter(job, setup) ||
        !kinds_change_places(job, setup, guides))
        return std::nullopt;
    const auto left = std::min_element(
        setup.valves.begin(), setup.valves.end(),
        [](const hold::Held& a, const hold::Held& b) { return a.readout.x() < b.readout.x(); });
    const job::Valve& valve = job.head.valves[left->valve];
    job::Doubt doubt;
    doubt.stage = job::Stage::find;
    doubt.cost = job::Cost::wrong_side;
    doubt.key = lies_key;
    doubt.value = lies_as_declared;
    doubt.text = sentence<"way-round">("setup"_is = setup.id, "kind"_is = job::kind_said(valve.kind),
                                       "valve"_is = valve.id);
    return doubt;
}

}  // namespace seatwright::find
