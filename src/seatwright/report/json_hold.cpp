#include <nlohmann/json.hpp>

#include "seatwright/base/units.hpp"
#include "seatwright/hold/inputs.hpp"
#include "seatwright/report/report.hpp"
#include "seatwright/report/values_json.hpp"

namespace seatwright::report {

using nlohmann::ordered_json;

namespace {

constexpr double to_deg = 1 / rad_per_deg;

ordered_json point(const Vec2& p) {
    return ordered_json::array({number(p.x()), number(p.y())});
}

ordered_json json_of(const hold::Safety& safety) {
    ordered_json out = with_room(6);
    out["mass_kg"] = number(safety.mass);
    out["slope_deg"] = number(safety.slope, to_deg);
    out["slip_factor"] = number(safety.slip_factor);
    out["slides_when_released"] =
        safety.friction_known ? ordered_json(safety.slides_when_released) : ordered_json(nullptr);
    out["stopped"] = safety.stopped;
    out["uphill"] = !safety.uphill ? ordered_json(nullptr)
                                   : ordered_json(*safety.uphill == job::LoadSide::back ? "back" : "front");
    return out;
}

ordered_json json_of(const job::Job& job, const hold::Setup& setup) {
    const auto& valves = job.head.valves;
    ordered_json out = with_room(8);
    out["id"] = setup.id;
    out["datum"] = valves[setup.datum].id;
    out["tilt_deg"] = number(setup.tilt, to_deg);
    out["swing_deg"] = number(setup.swing, to_deg);
    out["worst_plumb_deg"] = number(setup.worst_plumb_error, to_deg);
    out["travel_margin_mm"] = {{"x", number(setup.travel_margin[0])}, {"y", number(setup.travel_margin[1])}};
    out["valves"] = ordered_json::array();
    for (const auto& held : setup.valves) {
        ordered_json row = with_room(6);
        row["id"] = valves[held.valve].id;
        row["plumb_deg"] = number(held.plumb_error, to_deg);
        row["reachable"] = held.reachable;
        row["x_mm"] = number(held.readout.x());
        row["y_mm"] = number(held.readout.y());
        row["z_mm"] = number(held.map.z());
        out["valves"].push_back(std::move(row));
    }
    out["safety"] = json_of(setup.safety);
    return out;
}

ordered_json json_of(const hold::Posts& posts) {
    ordered_json out = with_room(6);
    out["a_mm"] = point(posts.a);
    out["b_mm"] = point(posts.b);
    out["span_mm"] = number(posts.span);
    out["position_sd_mm"] = number(posts.position_sd);
    out["yaw_sd_deg"] = number(posts.yaw_sd, to_deg);
    out["clearance_mm"] = number(posts.clearance);
    return out;
}

ordered_json json_of(const job::Job& job, const hold::Level& level, const Speech& speech) {
    ordered_json out = with_room(15);
    out["incline_deg"] = number(level.incline, to_deg);
    out["cant_deg"] = number(level.cant, to_deg);
    out["incline_bias_deg"] = number(level.incline_bias, to_deg);
    out["cant_bias_deg"] = number(level.cant_bias, to_deg);
    out["correction_tilt_deg"] = number(level.correction_tilt, to_deg);
    out["correction_swing_deg"] = number(level.correction_swing, to_deg);
    out["scatter_deg"] = number(level.scatter, to_deg);
    out["head"] = level.head;
    out["incline_bias_sd_deg"] = number(level.incline_bias_sd, to_deg);
    out["cant_bias_sd_deg"] = number(level.cant_bias_sd, to_deg);
    out["set_tilt_deg"] = number(level.set_tilt, to_deg);
    out["set_swing_deg"] = number(level.set_swing, to_deg);
    out["guides"] = ordered_json::array();
    for (const auto& guide : level.guides)
        out["guides"].push_back({{"id", job.head.valves[guide.valve].id},
                                 {"incline_deg", number(guide.incline, to_deg)},
                                 {"cant_deg", number(guide.cant, to_deg)},
                                 {"outlier", guide.outlier}});
    out["map_shift_mm"] = ordered_json::array();
    for (const auto& moved : level.map_shift)
        out["map_shift_mm"].push_back({{"id", job.head.valves[moved.valve].id},
                                       {"x_mm", number(job.machine.x_sign * moved.shift.x())},
                                       {"y_mm", number(job.machine.y_sign * moved.shift.y())},
                                       {"z_mm", number(moved.shift.z())}});
    out["words"] = in_words(level.words, speech);
    return out;
}

}  // namespace

ordered_json json_of(const job::Job& job, const hold::Hold& hold, const Speech& speech) {
    ordered_json out = with_room(6);
    out["inputs"] = ordered_json::array();
    for (const auto& input : hold.inputs)
        out["inputs"].push_back({{"what", input.what},
                                 {"value", number(input.value)},
                                 {"unit", input.unit},
                                 {"from", hold::word_of(input.from)}});
    out["setups"] = ordered_json::array();
    for (const auto& setup : hold.setups) out["setups"].push_back(json_of(job, setup));
    out["setups_proven"] = hold.setups_proven;
    out["fixtures"] = ordered_json::array();
    for (const auto& verdict : hold.fixtures)
        out["fixtures"].push_back({{"name", verdict.name},
                                   {"fits", verdict.fits},
                                   {"why", in_words(verdict.why, speech)},
                                   {"best", verdict.best}});
    out["posts"] = hold.posts ? json_of(*hold.posts) : ordered_json(nullptr);
    out["level"] = hold.level ? json_of(job, *hold.level, speech) : ordered_json(nullptr);
    return out;
}

}  // namespace seatwright::report
