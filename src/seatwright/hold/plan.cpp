#include <fmt/format.h>

#include <algorithm>

#include "seatwright/hold/fixture_choice.hpp"
#include "seatwright/hold/held_at.hpp"
#include "seatwright/hold/hold.hpp"
#include "seatwright/hold/inputs.hpp"
#include "seatwright/hold/level.hpp"
#include "seatwright/hold/level_held.hpp"
#include "seatwright/hold/posts.hpp"
#include "seatwright/hold/safety.hpp"
#include "seatwright/hold/setups.hpp"
#include "seatwright/hold/touch_units.hpp"
#include "seatwright/job/allowance.hpp"
#include "seatwright/words/english_hold.hpp"

namespace seatwright::hold {

namespace {

// "A" … "Z", "AA", "AB", …
std::string setup_id(std::size_t index) {
    std::string id;
    for (std::size_t rest = index + 1; rest > 0; rest = (rest - 1) / 26)
        id.insert(id.begin(), static_cast<char>('A' + (rest - 1) % 26));
    return id;
}

std::optional<double> margin(std::optional<double> travel, double low, double high) {
    if (!travel) return std::nullopt;
    return *travel - (high - low);
}

// R·(P − P_datum) for every valve of the setup, and what the machine's travel leaves over.
void lay_map(const job::Job& job, Setup& setup) {
    const auto& valves = job.head.valves;
    const Mat3 rotation = setup.rotation();
    Vec3 low = Vec3::Zero(), high = Vec3::Zero();
    for (auto& held : setup.valves) {
        held.map = rotation * (valves[held.valve].seat - valves[setup.datum].seat);
        held.readout = {job.machine.x_sign * held.map.x(), job.machine.y_sign * held.map.y()};
        low = low.cwiseMin(held.map);
        high = high.cwiseMax(held.map);
    }
    setup.travel_margin = {margin(job.machine.travel_x, low.x(), high.x()),
                           margin(job.machine.travel_y, low.y(), high.y())};
}

Setup setup_of(const job::Job& job, const SetupGroup& group, std::size_t index) {
    Setup setup;
    setup.id = setup_id(index);
    setup.tilt = group.attitude.tilt;
    setup.swing = group.attitude.swing;
    setup.datum = group.guides.front();
    for (const auto v : group.guides) {
        const auto& valve = job.head.valves[v];
        if (job.head.datum && valve.id == *job.head.datum) setup.datum = v;
        Held held;
        held.valve = v;
        held.plumb_error = plumb_error(valve.axis(), group.attitude);
        held.reachable = held.plumb_error <= job.fixture.plumb_limit + angle_tie;
        setup.worst_plumb_error = std::max(setup.worst_plumb_error, held.plumb_error);
        setup.valves.push_back(held);
    }
    lay_map(job, setup);
    setup.safety = safety_of(job.head, job.fixture, group.attitude);
    return setup;
}

void add_warnings(Notices& notices, std::vector<Warning> more) {
    for (auto& warning : more) notices.warnings.push_back(std::move(warning));
}

void warn_of_setup(const job::Job& job, const Setup& setup, Hold& hold) {
    for (const auto& held : setup.valves) {
        if (held.reachable) continue;
        const auto& id = job.head.valves[held.valve].id;
        hold.warnings.push_back(
            {"hold", "plumb-limit", id,
             sentence<"plumb-limit">("valve"_is = id, "limit"_is = as_angle(job.fixture.plumb_limit),
                                     "error"_is = as_angle(held.plumb_error), "setup"_is = setup.id,
                                     "tilt"_is = as_angle(setup.tilt), "swing"_is = as_angle(setup.swing)),
             job::allowance_of(job, "plumb " + id) != nullptr ? Severity::note : Severity::blocking});
    }
    const std::array<const char*, 2> axis{"X", "Y"};
    for (std::size_t a = 0; a < 2; ++a)
        if (setup.travel_margin[a] && *setup.travel_margin[a] < 0)
            hold.warnings.push_back(
                {"hold", "travel", std::nullopt,
                 sentence<"travel">("setup"_is = setup.id, "more"_is = as_place(-*setup.travel_margin[a]),
                                    "axis"_is = axis[a]),
                 Severity::blocking});
    add_warnings(hold, safety_warnings(setup));
}

void note_assumptions(const job::Job& job, Hold& hold) {
    hold.assumptions = {sentence<"along-table">(), sentence<"guides-as-drawn">()};
    if (!job.machine.travel_x || !job.machine.travel_y || !job.machine.travel_z)
        hold.assumptions.push_back(sentence<"travels-enough">());
    if (hold.posts && hold.posts->position_sd) hold.assumptions.push_back(sentence<"posts-anywhere">());
    if (job.fixture.friction && job.head.mass) hold.assumptions.push_back(sentence<"dry-friction">());
    if (hold.level) hold.assumptions.push_back(sentence<"map-once-corrected">());
}

}  // namespace

Hold plan(const job::Job& job, const std::string& head) {
    Hold hold;
    std::vector<Vec3> axes;
    for (const auto& valve : job.head.valves) axes.push_back(valve.axis());
    const auto setups = plan_setups(axes, reach_of(job.fixture), job.fixture.plumb_limit);
    hold.setups_proven = setups.proven;
    for (const auto& group : setups.groups) hold.setups.push_back(setup_of(job, group, hold.setups.size()));
    for (const auto& setup : hold.setups) warn_of_setup(job, setup, hold);
    if (!setups.proven)
        hold.warnings.push_back(
            {"hold", "setups-not-proven", std::nullopt,
             setups.at_least == setups.groups.size()
                 ? sentence<"setups-plumber">()
                 : sentence<"setups-fewer">("least"_is = setups.at_least, "found"_is = setups.groups.size()),
             Severity::note});
    hold.posts = posts_of(job.head, job.fixture);
    hold.fixtures = judge_fixtures(job, setups);
    for (const Warning& warning : fixture_warnings(job, hold.fixtures)) {
        hold.warnings.push_back(warning);
        if (warning.severity != Severity::blocking) continue;
        HeldBack held;
        held.code = HeldCode::safety;
        held.reason = warning.text;
        held.frees = sentence<"fixture-frees">();
        hold.held_back.push_back(std::move(held));
    }
    if (const auto lift = lift_warning(job)) hold.warnings.push_back(*lift);
    hold.level = level_of(job, hold.setups, head);
    add_warnings(hold, level_warnings(job, hold.level, hold.setups, head));
    if (hold.level)
        for (HeldBack& held : held_by_level(job, *hold.level, hold.setups))
            hold.held_back.push_back(std::move(held));
    note_assumptions(job, hold);
    hold.inputs = inputs_of(job);
    say_made_up(job, hold);
    const std::string planned = job::planned_head(job, head);
    auto doubts = job::doubts_of(job, job::Stage::hold, planned);
    const bool whole = !doubts.empty() && doubts.front().cost == job::Cost::whole_file;
    if (!whole)
        for (auto& doubt : touches_in_other_unit(job, hold.setups, planned))
            doubts.push_back(std::move(doubt));
    job::ask_about(hold, job::dearest_first(std::move(doubts)));
    return hold;
}

Setup held_at(const job::Job& job, const Setup& setup, double tilt, double swing) {
    SetupGroup group{{tilt, swing}, {}, true};
    for (const auto& held : setup.valves) group.guides.push_back(held.valve);
    Setup moved = setup_of(job, group, 0);
    moved.id = setup.id;
    return moved;
}

}  // namespace seatwright::hold
