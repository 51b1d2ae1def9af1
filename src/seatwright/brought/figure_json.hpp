// Parts of JSON that the ways a head description comes in (survey, drawing, scan) share.
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <utility>
#include <vector>

#include "seatwright/report/report.hpp"
#include "seatwright/survey/survey.hpp"
#include "seatwright/words/in_words.hpp"

namespace seatwright::brought {

const char* hole_word(survey::HoleKind kind);  // "bolt", "plug", "other"

// A figure's standard uncertainty; null where the figure is open.
nlohmann::ordered_json figure_u(const survey::Figure& figure, double scale = 1);
// The keys `key` and `u_key`.
void add_figure(nlohmann::ordered_json& out, const char* key, const survey::Figure& figure, double scale = 1);
// x, y, z in mm, incline and cant in deg, each with its u.
template <class Valve>
void add_place(nlohmann::ordered_json& out, const Valve& valve) {
    add_figure(out, "x", valve.x);
    add_figure(out, "y", valve.y);
    add_figure(out, "z", valve.z);
    add_figure(out, "incline", valve.incline, 1 / rad_per_deg);
    add_figure(out, "cant", valve.cant, 1 / rad_per_deg);
}

// What every hole has: x, y and diameter in mm, `u` of its place as its stage gives it, what it is and its
// id.
template <class Hole>
nlohmann::ordered_json json_of_hole(const Hole& hole, std::optional<double> diameter,
                                    nlohmann::ordered_json u) {
    return {{"x_mm", report::number(hole.x.value)},
            {"y_mm", report::number(hole.y.value)},
            {"diameter_mm", report::number(diameter)},
            {"u_mm", std::move(u)},
            {"what", hole_word(hole.kind)},
            {"id", hole.id}};
}

nlohmann::ordered_json json_of(const std::vector<survey::Repeat>& repeats, const Speech& speech);
// what, why, next.
nlohmann::ordered_json json_of(const survey::Missing& missing, const Speech& speech);
nlohmann::ordered_json json_of(const std::vector<survey::Missing>& missing, const Speech& speech);
nlohmann::ordered_json kind_json(const std::optional<job::Kind>& kind);  // "intake", "exhaust", null

}  // namespace seatwright::brought
