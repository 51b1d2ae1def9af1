#include <nlohmann/json.hpp>

#include "seatwright/base/units.hpp"
#include "seatwright/job/kind_word.hpp"
#include "seatwright/report/report.hpp"
#include "seatwright/report/two_ways.hpp"
#include "seatwright/report/values_json.hpp"

namespace seatwright::report {

using nlohmann::ordered_json;

namespace {

constexpr double deg_per_rad = 1 / rad_per_deg;
constexpr double to_cm3 = 1e-3;
constexpr double absolute_zero = -273.15;  // °C

const char* word(shape::HeightFrom from) {
    switch (from) {
        case shape::HeightFrom::touched:
            return "touched";
        case shape::HeightFrom::rest_z:
            return "rest_z";
        case shape::HeightFrom::recession:
            return "recession";
        case shape::HeightFrom::below_deck:
            return "below_deck";
        case shape::HeightFrom::stem_height:
            return "stem_height";
        case shape::HeightFrom::as_drawn:
            return "as drawn";
        case shape::HeightFrom::unread:
            break;
    }
    return "unread";
}

const char* word(shape::ContactStart contact) {
    switch (contact) {
        case shape::ContactStart::outer_edge:
            return "outer edge";
        case shape::ContactStart::inner_edge:
            return "inner edge";
        case shape::ContactStart::whole_face:
            break;
    }
    return "whole face";
}

ordered_json name_or_null(const std::string& name) {
    return name.empty() ? ordered_json(nullptr) : ordered_json(name);
}

ordered_json points(const std::vector<Vec2>& all) {
    ordered_json out = ordered_json::array();
    for (const auto& p : all) out.push_back(ordered_json::array({number(p.x()), number(p.y())}));
    return out;
}

// No part can be colder than absolute zero: such a fit cannot be freed by cold alone.
ordered_json temperature(double celsius) {
    return celsius < absolute_zero ? ordered_json(nullptr) : number(celsius);
}

ordered_json json_of(const job::Job& job, const shape::Seat& seat) {
    ordered_json out = with_room(40);
    const bool shaped = !seat.section.points.empty();
    const auto of_section = [&](double v) { return shaped ? number(v) : ordered_json(nullptr); };
    out["id"] = job.head.valves[seat.valve].id;
    out["contact_od_mm"] = of_section(seat.section.contact_od);
    out["contact_id_mm"] = of_section(seat.section.contact_id);
    out["gauge_mm"] = of_section(seat.section.gauge);
    out["contact_starts"] = word(seat.section.contact);
    out["section_mm"] = points(seat.section.points);
    out["cutter"] = seat.cutter ? ordered_json(job.cutters[*seat.cutter].name) : ordered_json(nullptr);
    out["blade_setting_mm"] = number(seat.blade_setting);
    out["cut_width_mm"] = number(seat.cut_width);
    out["cut_contact_od_mm"] = number(seat.cut_contact_od);
    out["recession_mm"] = number(seat.height.absolute());
    out["recession_u_mm"] = seat.height.absolute() ? number(seat.height.u) : ordered_json(nullptr);
    out["height_from"] = seat.height.from == shape::HeightFrom::unread ? ordered_json(nullptr)
                                                                       : ordered_json(word(seat.height.from));
    out["rest_mm"] = number(seat.rest);
    out["cleanup_mm"] = number(seat.cleanup);
    out["depth_low_mm"] = number(seat.depth_low);
    out["depth_high_mm"] = number(seat.depth_high);
    out["limited_by"] = name_or_null(seat.limited_by);
    out["depth_mm"] = number(seat.depth);
    out["finished_recession_mm"] = number(seat.finished_recession);
    out["stop_s_mm"] = number(seat.stop_s);
    out["z_mm"] = number(seat.z);
    out["program_z_mm"] = number(seat.program_z);
    out["stem_height_after_mm"] = number(seat.stem_height_after);
    out["recession_added_mm"] = number(seat.recession_added);
    out["recession_after_mm"] = number(seat.recession_after);
    out["removed_mm3"] = number(seat.removed);
    out["still_old_mm"] = ordered_json::array();
    for (const auto& patch : seat.still_old)
        out["still_old_mm"].push_back(ordered_json::array({number(patch[0]), number(patch[1])}));
    out["bridge_mm"] = number(seat.bridge);
    out["bridge_to"] = name_or_null(seat.bridge_to);
    out["cutter_clearance_mm"] = number(seat.cutter_clearance);
    out["cutter_clearance_to"] = name_or_null(seat.cutter_clearance_to);
    out["insert_wall_mm"] = number(seat.insert_wall);
    out["insert_wall_outside_mm"] = number(seat.insert_wall_outside);
    out["insert_wall_inside_mm"] = number(seat.insert_wall_inside);
    out["tip_grind_mm"] = number(seat.tip_grind);
    out["spring_shim_mm"] = number(seat.spring_shim);
    out["lash_shim_thinner_mm"] = number(seat.lash_shim);
    out["decision"] = shape::word_of(seat.decision);
    return out;
}

ordered_json per_kind(const job::PerKind<std::optional<double>>& pair) {
    return {{"intake", number(pair.intake)}, {"exhaust", number(pair.exhaust)}};
}

ordered_json json_of(const shape::Batch& batch) {
    ordered_json out = with_room(5);
    out["heads"] = batch.heads;
    out["common_stem_mm"] = per_kind(batch.common_stem);
    out["stem_spread_mm"] = per_kind(batch.stem_spread);
    out["chamber_spread_cm3"] = number(batch.chamber_spread, to_cm3);
    out["total_mm"] = number(batch.total);
    return out;
}

ordered_json json_of(const shape::DepthWay& way, const Speech& speech) {
    return {{"total_mm", number(way.total)},
            {"deeper_mm", number(way.deeper)},
            {"breaks", in_words(way.breaks, speech)}};
}

ordered_json json_of(const job::Job& job, const shape::PlanAnew& ways, const Speech& speech) {
    const auto id = [&](std::size_t valve) { return job.head.valves.at(valve).id; };
    ordered_json after = ordered_json::array(), seats = ordered_json::array();
    for (const std::size_t valve : ways.after) after.push_back(id(valve));
    for (std::size_t i = 0; i < ways.shifted.seats.size(); ++i) {
        const auto &shifted = ways.shifted.seats[i], &anew = ways.anew.seats.at(i);
        seats.push_back({{"id", id(shifted.valve)},
                         {"shifted_mm", number(shifted.depth)},
                         {"shifted_deeper_mm", number(shifted.deeper)},
                         {"anew_mm", number(anew.depth)},
                         {"anew_deeper_mm", number(anew.deeper)},
                         {"anew_insert", anew.insert}});
    }
    return {{"after", after},
            {"chosen", name_or_null(word_of(ways.chosen))},
            {"shifted", json_of(ways.shifted, speech)},
            {"anew", json_of(ways.anew, speech)},
            {"seats", seats}};
}

ordered_json json_of(const job::Job& job, const shape::DepthPlan& plan, const Speech& speech) {
    ordered_json out = with_room(8);
    out["total_mm"] = number(plan.total);
    out["total_unrounded_mm"] = number(plan.total_unrounded);
    out["stem_spread_mm"] = per_kind(plan.stem_spread);
    out["chamber_spread_cm3"] = number(plan.chamber_spread, to_cm3);
    out["feasible"] = plan.feasible;
    out["conflict"] = in_words(plan.conflict, speech);
    out["anew"] = plan.anew ? json_of(job, *plan.anew, speech) : ordered_json(nullptr);
    out["batch"] = plan.batch ? json_of(*plan.batch) : ordered_json(nullptr);
    return out;
}

ordered_json json_of(const job::Job& job, const shape::InsertFit& fit) {
    ordered_json out = with_room(14);
    out["id"] = job.head.valves[fit.valve].id;
    out["interference_mm"] = number(fit.interference);
    out["pressure_mpa"] = number(fit.pressure);
    out["pressure_hot_mpa"] = number(fit.pressure_hot);
    out["running_temp_c"] = number(fit.running_temperature);
    out["hold_force_n"] = number(fit.hold_force);
    out["hoop_mpa"] = number(fit.hoop);
    out["ring_hoop_mpa"] = number(fit.ring_hoop);
    out["insert_temp_c"] = temperature(fit.insert_temperature);
    out["head_temp_c"] = temperature(fit.head_temperature);
    out["counterbore_mm"] = number(fit.counterbore);
    out["counterbore_within_mm"] = number(fit.counterbore_within);
    out["counterbore_depth_mm"] = number(fit.counterbore_depth);
    out["counterbore_depth_within_mm"] = number(fit.counterbore_depth_within);
    return out;
}

ordered_json json_of(const shape::GuideFit& fit) {
    ordered_json out = with_room(8);
    out["kind"] = job::kind_word(fit.kind);
    out["interference_mm"] = number(fit.interference);
    out["pressure_mpa"] = number(fit.pressure);
    out["pressure_hot_mpa"] = number(fit.pressure_hot);
    out["hold_force_n"] = number(fit.hold_force);
    out["hoop_mpa"] = number(fit.hoop);
    out["guide_temp_c"] = temperature(fit.guide_temperature);
    out["head_temp_c"] = temperature(fit.head_temperature);
    return out;
}

ordered_json json_of(const shape::Chamber& chamber) {
    ordered_json out = with_room(6);
    out["cylinder"] = chamber.cylinder;
    out["before_cm3"] = number(chamber.before, to_cm3);
    out["after_cm3"] = number(chamber.after, to_cm3);
    out["change_cm3"] = number(chamber.change, to_cm3);
    out["compression_before"] = number(chamber.compression_before);
    out["compression_after"] = number(chamber.compression_after);
    return out;
}

ordered_json json_of(const shape::Flow& flow) {
    ordered_json out = with_room(6);
    out["kind"] = job::kind_word(flow.kind);
    out["throat_diameter_mm"] = number(flow.throat_diameter);
    out["throat_mm2"] = number(flow.throat_area);
    out["second_regime_mm"] = number(flow.second_regime);
    out["third_regime_mm"] = number(flow.third_regime);
    out["curve"] = points(flow.curve);
    return out;
}

}  // namespace

ordered_json json_of(const job::Job& job, const shape::Shape& shape, const Speech& speech) {
    ordered_json out = with_room(9);
    out["head"] = shape.head;
    const auto list = [&](const char* key) -> ordered_json& { return out[key] = ordered_json::array(); };
    list("seats");
    for (const auto& seat : shape.seats) out["seats"].push_back(json_of(job, seat));
    out["depth"] = json_of(job, shape.depth, speech);
    list("inserts");
    for (const auto& fit : shape.inserts) out["inserts"].push_back(json_of(job, fit));
    list("sensitivity");
    for (const auto& s : shape.sensitivity)
        out["sensitivity"].push_back({{"kind", job::kind_word(s.kind)},
                                      {"facet_deg", number(s.facet_angle, deg_per_rad)},
                                      {"width_per_depth", number(s.width_per_depth)},
                                      {"next_to_face", s.next_to_face}});
    list("near_misses");
    for (const auto& miss : shape.near_misses)
        out["near_misses"].push_back({{"kind", job::kind_word(miss.kind)},
                                      {"cutter", job.cutters[miss.cutter].name},
                                      {"why", in_words(miss.why, speech)},
                                      {"leaves_width_mm", number(miss.width)},
                                      {"leaves_contact_od_mm", number(miss.contact_od)}});
    list("guides");
    for (const auto& fit : shape.guides) out["guides"].push_back(json_of(fit));
    list("chambers");
    for (const auto& chamber : shape.chambers) out["chambers"].push_back(json_of(chamber));
    list("flow");
    for (const auto& flow : shape.flow) out["flow"].push_back(json_of(flow));
    return out;
}

}  // namespace seatwright::report
