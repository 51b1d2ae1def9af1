// survey as JSON: the contract's keys, and beside them what an outside check may want.
#include <cmath>
#include <nlohmann/json.hpp>

#include "seatwright/brought/brought.hpp"
#include "seatwright/brought/figure_json.hpp"
#include "seatwright/job/kind_word.hpp"

namespace seatwright::brought {

using namespace report;

namespace {

using Json = nlohmann::ordered_json;

const double to_deg = 1 / rad_per_deg;

// Per axis, in the root mean square; null where one of the two is open.
Json both(const survey::Figure& a, const survey::Figure& b, double scale = 1) {
    if (!a.value || !b.value) return nullptr;
    return number(std::sqrt((a.u * a.u + b.u * b.u) / 2), scale);
}

// The guide's own bore where it was measured, else none.
Json bore_of(const survey::Survey& s, const std::string& id) {
    for (const auto& size : s.readings.sizes)
        if (size.what == survey::SizeOf::bore && size.id == id) return number(size.value);
    return nullptr;
}

Json json_of_head(const survey::Survey& s) {
    Json holes = Json::array(), u_holes = Json::array(), obstacles = Json::array(), valves = Json::array();
    std::optional<double> diameter;
    for (const auto& h : s.holes) {
        if (h.kind != survey::HoleKind::bolt) {
            Json o = {{"name", h.id}};
            add_figure(o, "x", h.x);
            add_figure(o, "y", h.y);
            o["diameter"] = number(h.diameter);
            obstacles.push_back(std::move(o));
            continue;
        }
        if (!h.x.value || !h.y.value) continue;
        holes.push_back({number(h.x.value), number(h.y.value)});
        u_holes.push_back({number(h.x.u), number(h.y.u)});
        if (!diameter) diameter = h.diameter;
    }
    for (const auto& v : s.valves) {
        Json out = {{"id", v.id}, {"cylinder", v.name.cylinder}, {"kind", job::kind_word(v.name.kind)}};
        add_place(out, v);
        valves.push_back(std::move(out));
    }
    return {{"name", s.readings.head},
            {"material", s.readings.material.empty() ? Json(nullptr) : Json(s.readings.material)},
            {"mass", number(s.readings.mass)},
            {"bolt_holes", std::move(holes)},
            {"u_bolt_holes", std::move(u_holes)},
            {"bolt_hole_diameter", number(diameter)},
            {"obstacle", std::move(obstacles)},
            {"valve", std::move(valves)}};
}

Json json_of_valve(const survey::Survey& s, const survey::Valve& v) {
    Json covariance = nullptr;
    if (v.placed()) {
        covariance = Json::array();
        for (int i = 0; i < 3; ++i)
            covariance.push_back(
                {number(v.covariance(i, 0)), number(v.covariance(i, 1)), number(v.covariance(i, 2))});
    }
    Json out = with_room(20);
    out["id"] = v.id;
    out["kind"] = job::kind_word(v.name.kind);
    out["x_mm"] = number(v.x.value);
    out["y_mm"] = number(v.y.value);
    out["z_mm"] = number(v.z.value);
    out["incline_deg"] = number(v.incline.value, to_deg);
    out["cant_deg"] = number(v.cant.value, to_deg);
    out["u_xy_mm"] = both(v.x, v.y);
    out["u_z_mm"] = figure_u(v.z);
    out["u_angle_deg"] = both(v.incline, v.cant, to_deg);
    out["bore_mm"] = bore_of(s, v.id);
    out["gauge_mm"] = number(v.gauge_diameter);
    out["seat_angle_deg"] = number(v.seat_angle, to_deg);
    out["setup"] = v.setup ? Json(*v.setup) : Json(nullptr);
    out["u_x_mm"] = figure_u(v.x);
    out["u_y_mm"] = figure_u(v.y);
    out["u_incline_deg"] = figure_u(v.incline, to_deg);
    out["u_cant_deg"] = figure_u(v.cant, to_deg);
    out["covariance_mm2"] = std::move(covariance);
    return out;
}

}  // namespace

nlohmann::ordered_json json_of(const survey::Survey& s) {
    return json_of(s, {s.readings.units});
}

nlohmann::ordered_json json_of(const survey::Survey& s, const Speech& speech) {
    Json valves = Json::array(), holes = Json::array(), setups = Json::array(), aside = Json::array(),
         missing = Json::array(), sizes = Json::array();
    for (const auto& v : s.valves) valves.push_back(json_of_valve(s, v));
    for (const auto& h : s.holes) holes.push_back(json_of_hole(h, h.diameter, both(h.x, h.y)));
    for (const auto& x : s.setups)
        setups.push_back({{"setup", x.name},
                          {"tilt_deg", number(x.tilt.value, to_deg)},
                          {"swing_deg", number(x.swing.value, to_deg)},
                          {"residual_mm", number(x.residual)},
                          {"yaw_deg", number(x.yaw.value, to_deg)},
                          {"u_tilt_deg", figure_u(x.tilt, to_deg)},
                          {"u_swing_deg", figure_u(x.swing, to_deg)}});
    for (const auto& a : s.aside)
        aside.push_back({{"line", a.line},
                         {"key", a.key},
                         {"what", in_words(a.what, speech)},
                         {"why", in_words(a.why, speech)}});
    for (const auto& m : s.missing) {
        missing.push_back(json_of(m, speech));
        missing.back()["help"] = number(m.help);
    }
    for (const auto& f : s.sizes)
        sizes.push_back({{"what", survey::word_of(f.what)},
                         {"kind", job::kind_word(f.kind)},
                         {"value_mm", number(f.value)},
                         {"u_mm", number(f.u)},
                         {"count", f.count}});
    Json out = with_room(16);
    out["head"] = json_of_head(s);
    out["valves"] = std::move(valves);
    out["holes"] = std::move(holes);
    out["repeats"] = json_of(s.repeats, speech);
    out["missing"] = std::move(missing);
    out["sensor_zero_deg"] = number(s.sensor_zero.value, to_deg);
    out["u_sensor_zero_deg"] = figure_u(s.sensor_zero, to_deg);
    out["setups"] = std::move(setups);
    out["set_aside"] = std::move(aside);
    out["sizes"] = std::move(sizes);
    out["chi2"] = number(s.chi2);
    out["dof"] = number(s.dof);
    out["p_value"] = number(s.p_value);
    return out;
}

}  // namespace seatwright::brought
