// scan as JSON: the keys of survey and drawing, and beside them how much of each feature is seen.
#include <cmath>
#include <nlohmann/json.hpp>

#include "seatwright/brought/brought.hpp"
#include "seatwright/brought/figure_json.hpp"

namespace seatwright::brought {

using namespace report;

namespace {

using Json = nlohmann::ordered_json;

const double to_deg = 1 / rad_per_deg;

double both(const survey::Figure& a, const survey::Figure& b) {
    return std::sqrt((a.u * a.u + b.u * b.u) / 2);
}

Json json_of_head(const scan::Scan& s) {
    Json holes = Json::array(), u_holes = Json::array(), obstacles = Json::array(), valves = Json::array();
    for (const auto& h : s.holes) {
        if (h.kind == survey::HoleKind::bolt) {
            holes.push_back({number(h.x.value), number(h.y.value)});
            u_holes.push_back({number(h.x.u), number(h.y.u)});
        } else if (h.kind == survey::HoleKind::plug) {
            Json o = {{"name", h.id}};
            add_figure(o, "x", h.x);
            add_figure(o, "y", h.y);
            o["z"] = 0;
            add_figure(o, "diameter", h.diameter);
            add_figure(o, "incline", h.incline, to_deg);
            add_figure(o, "cant", h.cant, to_deg);
            obstacles.push_back(std::move(o));
        }
    }
    for (const auto& v : s.valves) {
        Json out = {{"id", v.id}, {"cylinder", v.cylinder}, {"kind", kind_json(v.kind)}};
        add_place(out, v);
        valves.push_back(std::move(out));
    }
    Json out = {{"name", s.title},
                {"material", nullptr},
                {"mass", nullptr},
                {"bolt_holes", std::move(holes)},
                {"u_bolt_holes", std::move(u_holes)}};
    add_figure(out, "bolt_hole_diameter", s.bolt_diameter);
    out["obstacle"] = std::move(obstacles);
    out["valve"] = std::move(valves);
    return out;
}

Json json_of_valve(const scan::Valve& v) {
    Json covariance = Json::array(), facets = Json::array();
    for (int i = 0; i < 3; ++i)
        covariance.push_back(
            {number(v.covariance(i, 0)), number(v.covariance(i, 1)), number(v.covariance(i, 2))});
    for (const auto& f : v.facets)
        facets.push_back({{"angle_deg", number(f.angle, to_deg)},
                          {"u_angle_deg", number(f.u_angle, to_deg)},
                          {"inner_mm", number(f.inner)},
                          {"outer_mm", number(f.outer)},
                          {"face", f.face}});
    Json out = with_room(32);
    out["id"] = v.id;
    out["kind"] = kind_json(v.kind);
    out["x_mm"] = number(v.x.value);
    out["y_mm"] = number(v.y.value);
    out["z_mm"] = number(v.z.value);
    out["incline_deg"] = number(v.incline.value, to_deg);
    out["cant_deg"] = number(v.cant.value, to_deg);
    out["u_xy_mm"] = number(both(v.x, v.y));
    out["u_z_mm"] = figure_u(v.z);
    out["u_angle_deg"] = number(both(v.incline, v.cant), to_deg);
    out["bore_mm"] = v.pin ? Json(nullptr) : number(v.bore.value);
    out["gauge_mm"] = number(v.gauge.value);
    out["seat_angle_deg"] = number(v.seat_angle.value, to_deg);
    out["setup"] = nullptr;
    out["cylinder"] = v.cylinder;
    out["u_x_mm"] = figure_u(v.x);
    out["u_y_mm"] = figure_u(v.y);
    out["u_incline_deg"] = figure_u(v.incline, to_deg);
    out["u_cant_deg"] = figure_u(v.cant, to_deg);
    out["covariance_mm2"] = std::move(covariance);
    out["u_bore_mm"] = v.pin ? Json(nullptr) : figure_u(v.bore);
    out["pin_mm"] = v.pin ? number(v.bore.value) : Json(nullptr);
    out["u_gauge_mm"] = figure_u(v.gauge);
    out["u_seat_angle_deg"] = figure_u(v.seat_angle, to_deg);
    out["seen_length_mm"] = number(v.length);
    out["seen_arc_deg"] = number(v.arc, to_deg);
    out["points"] = number(v.points);
    out["scatter_mm"] = number(v.sd);
    out["seat_off_guide_mm"] = number(v.off_guide);
    out["facets"] = std::move(facets);
    return out;
}

Json json_of_chamber(const scan::Chamber& c) {
    Json outline = Json::array();
    for (const auto& p : c.outline) outline.push_back({number(p.x()), number(p.y())});
    return {{"cylinder", c.cylinder},
            {"valves", c.valves},
            {"area_mm2", number(c.area)},
            {"u_mm", number(c.u)},
            {"outline_mm", std::move(outline)}};
}

Json json_of_not_seen(const scan::NotSeen& n) {
    return {{"id", n.id},
            {"x_mm", number(n.at.x())},
            {"y_mm", number(n.at.y())},
            {"expected", n.expected},
            {"seen_length_mm", number(n.length)},
            {"seen_arc_deg", number(n.arc, to_deg)}};
}

}  // namespace

nlohmann::ordered_json json_of(const scan::Scan& s) {
    return json_of(s, {s.units});
}

nlohmann::ordered_json json_of(const scan::Scan& s, const Speech& speech) {
    Json valves = Json::array(), holes = Json::array(), chambers = Json::array(), not_seen = Json::array();
    for (const auto& v : s.valves) valves.push_back(json_of_valve(v));
    for (const auto& c : s.chambers) chambers.push_back(json_of_chamber(c));
    for (const auto& n : s.not_seen) not_seen.push_back(json_of_not_seen(n));
    for (const auto& h : s.holes) {
        Json out = json_of_hole(h, h.diameter.value, number(both(h.x, h.y)));
        out["u_diameter_mm"] = figure_u(h.diameter);
        out["lean_deg"] = number(h.lean, to_deg);
        out["incline_deg"] = number(h.incline.value, to_deg);
        out["cant_deg"] = number(h.cant.value, to_deg);
        out["u_incline_deg"] = figure_u(h.incline, to_deg);
        out["u_cant_deg"] = figure_u(h.cant, to_deg);
        out["seen_length_mm"] = number(h.length);
        out["seen_arc_deg"] = number(h.arc, to_deg);
        holes.push_back(std::move(out));
    }
    Json out = with_room(16);
    out["head"] = json_of_head(s);
    out["valves"] = std::move(valves);
    out["holes"] = std::move(holes);
    out["repeats"] = json_of(s.repeats, speech);
    out["missing"] = json_of(s.missing, speech);
    out["not_seen"] = std::move(not_seen);
    out["chambers"] = std::move(chambers);
    out["deck"] = {{"rms_mm", number(s.deck_rms)}, {"points", number(s.deck_points)}};
    out["points"] = number(s.points);
    out["inliers"] = number(s.inliers);
    out["seconds"] = number(s.seconds);
    out["format"] = s.format;
    out["units"] = s.units == LengthUnit::inch ? "in" : "mm";
    out["units_from"] = s.unit_told ? "told" : "inferred";
    out["not_numbers"] = number(s.not_numbers);
    out["repeated"] = number(s.repeated);
    out["noise_together"] = number(s.noise_together);
    return out;
}

}  // namespace seatwright::brought
