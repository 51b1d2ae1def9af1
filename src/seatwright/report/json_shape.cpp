#include <nlohmann/json.hpp>

#include "seatwright/base/units.hpp"
#include "seatwright/job/kind_word.hpp"
#include "seatwright/report/members.hpp"
#include "seatwright/report/report.hpp"
#include "seatwright/report/two_ways.hpp"

namespace seatwright::report {

namespace {

constexpr double deg_per_rad = 1 / rad_per_deg;
constexpr double to_cm3 = 1e-3;
constexpr double absolute_zero = -273.15;  // °C

const char* shape_word(shape::HeightFrom from) {
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

const char* shape_word(shape::ContactStart contact) {
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

JsonText name_or_null(const std::string& name) {
    return name.empty() ? JsonText(nullptr) : JsonText(name);
}

JsonText points(const std::vector<Vec2>& all) {
    JsonText out = JsonText::array();
    for (const auto& p : all) out.push_back(JsonText::array({as_json(p.x()), as_json(p.y())}));
    return out;
}

// No part can be colder than absolute zero: such a fit cannot be freed by cold alone.
JsonText temperature(double celsius) {
    return celsius < absolute_zero ? JsonText(nullptr) : as_json(celsius);
}

JsonText shape_json(const job::Job& job, const shape::Seat& seat) {
    JsonText out = JsonText::object();
    const bool shaped = !seat.section.points.empty();
    const auto of_section = [&](double v) { return shaped ? as_json(v) : JsonText(nullptr); };
    out["id"] = job.head.valves[seat.valve].id;
    out["contact_od_mm"] = of_section(seat.section.contact_od);
    out["contact_id_mm"] = of_section(seat.section.contact_id);
    out["gauge_mm"] = of_section(seat.section.gauge);
    out["contact_starts"] = shape_word(seat.section.contact);
    out["section_mm"] = points(seat.section.points);
    out["cutter"] = seat.cutter ? JsonText(job.cutters[*seat.cutter].name) : JsonText(nullptr);
    out["blade_setting_mm"] = as_json(seat.blade_setting);
    out["cut_width_mm"] = as_json(seat.cut_width);
    out["cut_contact_od_mm"] = as_json(seat.cut_contact_od);
    out["recession_mm"] = as_json(seat.height.absolute());
    out["recession_u_mm"] = seat.height.absolute() ? as_json(seat.height.u) : JsonText(nullptr);
    out["height_from"] = seat.height.from == shape::HeightFrom::unread
                             ? JsonText(nullptr)
                             : JsonText(shape_word(seat.height.from));
    out["rest_mm"] = as_json(seat.rest);
    out["cleanup_mm"] = as_json(seat.cleanup);
    out["depth_low_mm"] = as_json(seat.depth_low);
    out["depth_high_mm"] = as_json(seat.depth_high);
    out["limited_by"] = name_or_null(seat.limited_by);
    out["depth_mm"] = as_json(seat.depth);
    out["finished_recession_mm"] = as_json(seat.finished_recession);
    out["stop_s_mm"] = as_json(seat.stop_s);
    out["z_mm"] = as_json(seat.z);
    out["program_z_mm"] = as_json(seat.program_z);
    out["stem_height_after_mm"] = as_json(seat.stem_height_after);
    out["recession_added_mm"] = as_json(seat.recession_added);
    out["recession_after_mm"] = as_json(seat.recession_after);
    out["removed_mm3"] = as_json(seat.removed);
    out["still_old_mm"] = JsonText::array();
    for (const auto& patch : seat.still_old)
        out["still_old_mm"].push_back(JsonText::array({as_json(patch[0]), as_json(patch[1])}));
    out["bridge_mm"] = as_json(seat.bridge);
    out["bridge_to"] = name_or_null(seat.bridge_to);
    out["cutter_clearance_mm"] = as_json(seat.cutter_clearance);
    out["cutter_clearance_to"] = name_or_null(seat.cutter_clearance_to);
    out["insert_wall_mm"] = as_json(seat.insert_wall);
    out["insert_wall_outside_mm"] = as_json(seat.insert_wall_outside);
    out["insert_wall_inside_mm"] = as_json(seat.insert_wall_inside);
    out["tip_grind_mm"] = as_json(seat.tip_grind);
    out["spring_shim_mm"] = as_json(seat.spring_shim);
    out["lash_shim_thinner_mm"] = as_json(seat.lash_shim);
    out["decision"] = shape::word_of(seat.decision);
    return out;
}

JsonText per_kind(const job::PerKind<std::optional<double>>& pair) {
    return {{job::kind_word(job::Kind::intake), as_json(pair.intake)},
            {job::kind_word(job::Kind::exhaust), as_json(pair.exhaust)}};
}

JsonText shape_json(const shape::Batch& batch) {
    JsonText out = JsonText::object();
    out["heads"] = batch.heads;
    out["common_stem_mm"] = per_kind(batch.common_stem);
    out["stem_spread_mm"] = per_kind(batch.stem_spread);
    out["chamber_spread_cm3"] = as_json(batch.chamber_spread, to_cm3);
    out["total_mm"] = as_json(batch.total);
    return out;
}

JsonText shape_json(const shape::DepthWay& way, const Speech& speech) {
    return {{"total_mm", as_json(way.total)},
            {"deeper_mm", as_json(way.deeper)},
            {"breaks", in_words(way.breaks, speech)}};
}

JsonText shape_json(const job::Job& job, const shape::PlanAnew& ways, const Speech& speech) {
    const auto id = [&](std::size_t valve) { return job.head.valves.at(valve).id; };
    JsonText after = JsonText::array(), seats = JsonText::array();
    for (const std::size_t valve : ways.after) after.push_back(id(valve));
    for (std::size_t i = 0; i < ways.shifted.seats.size(); ++i) {
        const auto &shifted = ways.shifted.seats[i], &anew = ways.anew.seats.at(i);
        seats.push_back({{"id", id(shifted.valve)},
                         {"shifted_mm", as_json(shifted.depth)},
                         {"shifted_deeper_mm", as_json(shifted.deeper)},
                         {"anew_mm", as_json(anew.depth)},
                         {"anew_deeper_mm", as_json(anew.deeper)},
                         {"anew_insert", anew.insert}});
    }
    return {{"after", after},
            {"chosen", name_or_null(word_of(ways.chosen))},
            {"shifted", shape_json(ways.shifted, speech)},
            {"anew", shape_json(ways.anew, speech)},
            {"seats", seats}};
}

JsonText shape_json(const job::Job& job, const shape::DepthPlan& plan, const Speech& speech) {
    JsonText out = JsonText::object();
    out["total_mm"] = as_json(plan.total);
    out["total_unrounded_mm"] = as_json(plan.total_unrounded);
    out["stem_spread_mm"] = per_kind(plan.stem_spread);
    out["chamber_spread_cm3"] = as_json(plan.chamber_spread, to_cm3);
    out["feasible"] = plan.feasible;
    out["conflict"] = in_words(plan.conflict, speech);
    out["anew"] = plan.anew ? shape_json(job, *plan.anew, speech) : JsonText(nullptr);
    out["batch"] = plan.batch ? shape_json(*plan.batch) : JsonText(nullptr);
    return out;
}

JsonText shape_json(const job::Job& job, const shape::InsertFit& fit) {
    JsonText out = JsonText::object();
    out["id"] = job.head.valves[fit.valve].id;
    out["interference_mm"] = as_json(fit.interference);
    out["pressure_mpa"] = as_json(fit.pressure);
    out["pressure_hot_mpa"] = as_json(fit.pressure_hot);
    out["running_temp_c"] = as_json(fit.running_temperature);
    out["hold_force_n"] = as_json(fit.hold_force);
    out["hoop_mpa"] = as_json(fit.hoop);
    out["ring_hoop_mpa"] = as_json(fit.ring_hoop);
    out["insert_temp_c"] = temperature(fit.insert_temperature);
    out["head_temp_c"] = temperature(fit.head_temperature);
    out["counterbore_mm"] = as_json(fit.counterbore);
    out["counterbore_within_mm"] = as_json(fit.counterbore_within);
    out["counterbore_depth_mm"] = as_json(fit.counterbore_depth);
    out["counterbore_depth_within_mm"] = as_json(fit.counterbore_depth_within);
    return out;
}

JsonText shape_json(const shape::GuideFit& fit) {
    JsonText out = JsonText::object();
    out["kind"] = job::kind_word(fit.kind);
    out["interference_mm"] = as_json(fit.interference);
    out["pressure_mpa"] = as_json(fit.pressure);
    out["pressure_hot_mpa"] = as_json(fit.pressure_hot);
    out["hold_force_n"] = as_json(fit.hold_force);
    out["hoop_mpa"] = as_json(fit.hoop);
    out["guide_temp_c"] = temperature(fit.guide_temperature);
    out["head_temp_c"] = temperature(fit.head_temperature);
    return out;
}

JsonText shape_json(const shape::Chamber& chamber) {
    JsonText out = JsonText::object();
    out["cylinder"] = chamber.cylinder;
    out["before_cm3"] = as_json(chamber.before, to_cm3);
    out["after_cm3"] = as_json(chamber.after, to_cm3);
    out["change_cm3"] = as_json(chamber.change, to_cm3);
    out["compression_before"] = as_json(chamber.compression_before);
    out["compression_after"] = as_json(chamber.compression_after);
    return out;
}

JsonText shape_json(const shape::Flow& flow) {
    JsonText out = JsonText::object();
    out["kind"] = job::kind_word(flow.kind);
    out["throat_diameter_mm"] = as_json(flow.throat_diameter);
    out["throat_mm2"] = as_json(flow.throat_area);
    out["second_regime_mm"] = as_json(flow.second_regime);
    out["third_regime_mm"] = as_json(flow.third_regime);
    out["curve"] = points(flow.curve);
    return out;
}

}  // namespace

JsonMembers members_of(const job::Job& job, const shape::Shape& shape, const Speech& speech) {
    JsonMembers out;
    out["head"] = shape.head;
    const auto list = [&](const char* key) -> JsonText& { return out[key] = JsonText::array(); };
    list("seats");
    for (const auto& seat : shape.seats) out["seats"].push_back(shape_json(job, seat));
    out["depth"] = shape_json(job, shape.depth, speech);
    list("inserts");
    for (const auto& fit : shape.inserts) out["inserts"].push_back(shape_json(job, fit));
    list("sensitivity");
    for (const auto& s : shape.sensitivity)
        out["sensitivity"].push_back({{"kind", job::kind_word(s.kind)},
                                      {"facet_deg", as_json(s.facet_angle, deg_per_rad)},
                                      {"width_per_depth", as_json(s.width_per_depth)},
                                      {"next_to_face", s.next_to_face}});
    list("near_misses");
    for (const auto& miss : shape.near_misses)
        out["near_misses"].push_back({{"kind", job::kind_word(miss.kind)},
                                      {"cutter", job.cutters[miss.cutter].name},
                                      {"why", in_words(miss.why, speech)},
                                      {"leaves_width_mm", as_json(miss.width)},
                                      {"leaves_contact_od_mm", as_json(miss.contact_od)}});
    list("guides");
    for (const auto& fit : shape.guides) out["guides"].push_back(shape_json(fit));
    list("chambers");
    for (const auto& chamber : shape.chambers) out["chambers"].push_back(shape_json(chamber));
    list("flow");
    for (const auto& flow : shape.flow) out["flow"].push_back(shape_json(flow));
    return out;
}

nlohmann::ordered_json json_of(const job::Job& job, const shape::Shape& shape, const Speech& speech) {
    return json_of(members_of(job, shape, speech));
}

}  // namespace seatwright::report
