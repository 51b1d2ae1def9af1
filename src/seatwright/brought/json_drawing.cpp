// drawing as JSON: the keys of survey and scan, and beside them the groups and what was left out.
#include <nlohmann/json.hpp>

#include "seatwright/brought/brought.hpp"
#include "seatwright/brought/figure_json.hpp"

namespace seatwright::brought {

using namespace report;

namespace {

using Json = nlohmann::ordered_json;

const double to_deg = 1 / rad_per_deg;

Json json_of_head(const drawing::Drawing& d) {
    Json holes = Json::array(), u_holes = Json::array(), valves = Json::array();
    for (const auto& h : d.holes) {
        if (h.kind != survey::HoleKind::bolt) continue;
        holes.push_back({number(h.x.value), number(h.y.value)});
        u_holes.push_back({number(h.x.u), number(h.y.u)});
    }
    for (const auto& v : d.valves) {
        Json out = {{"id", v.id}, {"cylinder", v.cylinder}, {"kind", kind_json(v.kind)}};
        add_place(out, v);
        valves.push_back(std::move(out));
    }
    return {{"name", d.title},
            {"material", nullptr},
            {"mass", nullptr},
            {"bolt_holes", std::move(holes)},
            {"u_bolt_holes", std::move(u_holes)},
            {"bolt_hole_diameter", number(d.bolt_diameter)},
            {"u_bolt_hole_diameter", d.bolt_diameter ? number(d.u_place) : Json(nullptr)},
            {"bore_diameter", number(d.bore_diameter)},
            {"u_bore_diameter", d.bore_diameter ? number(d.u_place) : Json(nullptr)},
            {"obstacle", Json::array()},
            {"valve", std::move(valves)}};
}

Json json_of_valve(const drawing::Valve& v) {
    Json diameters = Json::array();
    for (const double size : v.diameters) diameters.push_back(number(size));
    Json out = with_room(22);
    out["id"] = v.id;
    out["kind"] = kind_json(v.kind);
    out["x_mm"] = number(v.x.value);
    out["y_mm"] = number(v.y.value);
    out["z_mm"] = number(v.z.value);
    out["incline_deg"] = number(v.incline.value, to_deg);
    out["cant_deg"] = number(v.cant.value, to_deg);
    out["u_xy_mm"] = number(std::max(v.x.u, v.y.u));
    out["u_z_mm"] = figure_u(v.z);
    out["u_angle_deg"] = figure_u(v.incline, to_deg);
    out["bore_mm"] = number(v.bore);
    out["gauge_mm"] = number(v.gauge);
    out["seat_angle_deg"] = nullptr;
    out["setup"] = nullptr;
    out["cylinder"] = v.cylinder;
    out["diameters_mm"] = std::move(diameters);
    // What its ellipse shows, whether or not its sign is known: tan cant and tan incline are the tangent of
    // the lean along this way.
    out["lean_deg"] = number(v.lean, to_deg);
    out["u_lean_deg"] = v.lean ? number(v.u_lean, to_deg) : Json(nullptr);
    out["lean_way"] = v.lean ? Json({number(v.lean_way.x()), number(v.lean_way.y())}) : Json(nullptr);
    out["group"] = drawing::group_name(v.group);
    return out;
}

}  // namespace

nlohmann::ordered_json json_of(const drawing::Drawing& d) {
    return json_of(d, {d.units});
}

nlohmann::ordered_json json_of(const drawing::Drawing& d, const Speech& speech) {
    Json valves = Json::array(), holes = Json::array(), groups = Json::array(), not_read = Json::object();
    for (const auto& v : d.valves) valves.push_back(json_of_valve(v));
    for (const auto& h : d.holes) {
        holes.push_back(json_of_hole(h, h.diameter, number(std::max(h.x.u, h.y.u))));
        holes.back()["group"] = drawing::group_name(h.group);
    }
    for (const auto& g : d.groups) {
        Json diameters = Json::array();
        for (const double size : g.diameters) diameters.push_back(number(size));
        groups.push_back({{"group", g.name.empty() ? Json(nullptr) : Json(g.name)},
                          {"what", g.what},
                          {"count", g.count},
                          {"diameters_mm", std::move(diameters)},
                          {"layers", g.layers},
                          {"why", in_words(g.why, speech)},
                          {"sure", g.sure}});
    }
    for (const auto& [kind, n] : d.not_read) not_read[kind] = n;
    Json out = with_room(14);
    out["head"] = json_of_head(d);
    out["valves"] = std::move(valves);
    out["holes"] = std::move(holes);
    out["repeats"] = json_of(d.repeats, speech);
    out["missing"] = json_of(d.missing, speech);
    out["groups"] = std::move(groups);
    out["drawn_in"] = d.drawn_in;
    out["turned_deg"] = number(d.turned, to_deg);
    out["u_place_mm"] = number(d.u_place);
    out["circles"] = d.curves;
    out["left_out"] = {
        {"hidden", d.hidden}, {"in_paper_space", d.in_paper}, {"not_read", std::move(not_read)}};
    return out;
}

}  // namespace seatwright::brought
