#include <nlohmann/json.hpp>

#include "seatwright/base/units.hpp"
#include "seatwright/hold/inputs.hpp"
#include "seatwright/report/members.hpp"
#include "seatwright/report/report.hpp"

namespace seatwright::report {

namespace {

constexpr double to_deg = 1 / rad_per_deg;

JsonText point(const Vec2& p) {
    return JsonText::array({as_json(p.x()), as_json(p.y())});
}

JsonText hold_json(const hold::Safety& safety) {
    JsonText out = JsonText::object();
    out["mass_kg"] = as_json(safety.mass);
    out["slope_deg"] = as_json(safety.slope, to_deg);
    out["slip_factor"] = as_json(safety.slip_factor);
    out["slides_when_released"] =
        safety.friction_known ? JsonText(safety.slides_when_released) : JsonText(nullptr);
    out["stopped"] = safety.stopped;
    out["uphill"] = !safety.uphill ? JsonText(nullptr)
                                   : JsonText(*safety.uphill == job::LoadSide::back ? "back" : "front");
    return out;
}

JsonText hold_json(const job::Job& job, const hold::Setup& setup) {
    const auto& valves = job.head.valves;
    JsonText out = JsonText::object();
    out["id"] = setup.id;
    out["datum"] = valves[setup.datum].id;
    out["tilt_deg"] = as_json(setup.tilt, to_deg);
    out["swing_deg"] = as_json(setup.swing, to_deg);
    out["worst_plumb_deg"] = as_json(setup.worst_plumb_error, to_deg);
    out["travel_margin_mm"] = {{"x", as_json(setup.travel_margin[0])},
                               {"y", as_json(setup.travel_margin[1])}};
    out["valves"] = JsonText::array();
    for (const auto& held : setup.valves) {
        JsonText row = JsonText::object();
        row["id"] = valves[held.valve].id;
        row["plumb_deg"] = as_json(held.plumb_error, to_deg);
        row["reachable"] = held.reachable;
        row["x_mm"] = as_json(held.readout.x());
        row["y_mm"] = as_json(held.readout.y());
        row["z_mm"] = as_json(held.map.z());
        out["valves"].push_back(std::move(row));
    }
    out["safety"] = hold_json(setup.safety);
    return out;
}

JsonText hold_json(const hold::Posts& posts) {
    JsonText out = JsonText::object();
    out["a_mm"] = point(posts.a);
    out["b_mm"] = point(posts.b);
    out["span_mm"] = as_json(posts.span);
    out["position_sd_mm"] = as_json(posts.position_sd);
    out["yaw_sd_deg"] = as_json(posts.yaw_sd, to_deg);
    out["clearance_mm"] = as_json(posts.clearance);
    return out;
}

JsonText hold_json(const job::Job& job, const hold::Level& level, const Speech& speech) {
    JsonText out = JsonText::object();
    out["incline_deg"] = as_json(level.incline, to_deg);
    out["cant_deg"] = as_json(level.cant, to_deg);
    out["incline_bias_deg"] = as_json(level.incline_bias, to_deg);
    out["cant_bias_deg"] = as_json(level.cant_bias, to_deg);
    out["correction_tilt_deg"] = as_json(level.correction_tilt, to_deg);
    out["correction_swing_deg"] = as_json(level.correction_swing, to_deg);
    out["scatter_deg"] = as_json(level.scatter, to_deg);
    out["head"] = level.head;
    out["incline_bias_sd_deg"] = as_json(level.incline_bias_sd, to_deg);
    out["cant_bias_sd_deg"] = as_json(level.cant_bias_sd, to_deg);
    out["set_tilt_deg"] = as_json(level.set_tilt, to_deg);
    out["set_swing_deg"] = as_json(level.set_swing, to_deg);
    out["guides"] = JsonText::array();
    for (const auto& guide : level.guides)
        out["guides"].push_back({{"id", job.head.valves[guide.valve].id},
                                 {"incline_deg", as_json(guide.incline, to_deg)},
                                 {"cant_deg", as_json(guide.cant, to_deg)},
                                 {"outlier", guide.outlier}});
    out["map_shift_mm"] = JsonText::array();
    for (const auto& moved : level.map_shift)
        out["map_shift_mm"].push_back({{"id", job.head.valves[moved.valve].id},
                                       {"x_mm", as_json(job.machine.x_sign * moved.shift.x())},
                                       {"y_mm", as_json(job.machine.y_sign * moved.shift.y())},
                                       {"z_mm", as_json(moved.shift.z())}});
    out["words"] = in_words(level.words, speech);
    return out;
}

}  // namespace

JsonMembers members_of(const job::Job& job, const hold::Hold& hold, const Speech& speech) {
    JsonMembers out;
    out["inputs"] = JsonText::array();
    for (const auto& input : hold.inputs)
        out["inputs"].push_back({{"what", input.what},
                                 {"value", as_json(input.value)},
                                 {"unit", input.unit},
                                 {"from", hold::word_of(input.from)}});
    out["setups"] = JsonText::array();
    for (const auto& setup : hold.setups) out["setups"].push_back(hold_json(job, setup));
    out["setups_proven"] = hold.setups_proven;
    out["fixtures"] = JsonText::array();
    for (const auto& verdict : hold.fixtures)
        out["fixtures"].push_back({{"name", verdict.name},
                                   {"fits", verdict.fits},
                                   {"why", in_words(verdict.why, speech)},
                                   {"best", verdict.best}});
    out["posts"] = hold.posts ? hold_json(*hold.posts) : JsonText(nullptr);
    out["level"] = hold.level ? hold_json(job, *hold.level, speech) : JsonText(nullptr);
    return out;
}

nlohmann::ordered_json json_of(const job::Job& job, const hold::Hold& hold, const Speech& speech) {
    return json_of(members_of(job, hold, speech));
}

}  // namespace seatwright::report
