#include "server/answers/scan_state.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

#include "seatwright/brought/brought.hpp"
#include "seatwright/brought/draw_scan.hpp"
#include "seatwright/job/key_names.hpp"
#include "seatwright/report/report.hpp"
#include "seatwright/scan/changes.hpp"
#include "seatwright/scan/job_text.hpp"
#include "seatwright/scan/shown.hpp"
#include "server/http/call.hpp"
#include "server/http/word_table.hpp"
#include "server/jobs/on_the_shelf.hpp"

namespace seatwright::server {

namespace {

const scan::Surface& surface_of(const ScanStanding& standing) {
    if (!standing.surface) throw http_error(409, "the file is not read yet");
    return *standing.surface;
}

scan::Scan found_in(const ScanStanding& standing, const ScanAsked& asked) {
    scan::Told told;
    told.end_for_end = asked.end_for_end;
    auto found = scan::scan_of(surface_of(standing), told);
    if (!found) throw http_error(422, fmt::format("{} {}", standing.file, found.error().front().text));
    return std::move(*found);
}

// So that the furthest place told fits into 16 bits.
double step_of(const std::vector<scan::Shown>& points) {
    double far = 1;
    for (const auto& p : points)
        for (const float v : {p.at.x, p.at.y, p.at.z}) far = std::max(far, std::abs(static_cast<double>(v)));
    constexpr double largest = 32767;
    return far / largest;
}

Json in_doubt(const scan::Scan& found, const Speech& speech) {
    Json out = Json::object();
    for (const auto& v : found.valves)
        if (const auto why = scan::doubt_of(v); !why.empty()) out[v.id] = in_words(why, speech);
    for (const auto& h : found.holes)
        if (const auto why = scan::doubt_of(h); !why.empty()) out[h.id] = in_words(why, speech);
    return out;
}

// What stands against what a person said of the features, each by its feature.
Faults as_faults(const scan::Scan& found, const std::vector<scan::Objection>& objections,
                 const Speech& speech) {
    Faults out;
    for (const auto& one : objections) out.push_back({found.file, 0, one.feature, in_words(one.why, speech)});
    return out;
}

// Ends of what is seen of each wall, for the view to turn.
Json wall_json(const std::string& id, const scan::Cylinder& w) {
    const auto place = [](const Vec3& p) { return Json::array({p.x(), p.y(), p.z()}); };
    return {{"id", id},
            {"low_mm", place(w.at + w.low * w.axis)},
            {"high_mm", place(w.at + w.high * w.axis)},
            {"radius_mm", w.radius}};
}

constexpr std::array<std::pair<survey::HoleKind, const char*>, 3> hole_kinds{
    {{survey::HoleKind::bolt, "bolt"}, {survey::HoleKind::plug, "plug"}, {survey::HoleKind::other, "other"}}};

std::map<std::string, scan::Change> changes_in(const Json& said, const char* of) {
    std::map<std::string, scan::Change> out;
    const auto all = said.find(of);
    if (all == said.end()) return out;
    if (!all->is_object())
        throw http_error(400, fmt::format("{} is an object of features by their names", of));
    for (const auto& [id, one] : all->items()) {
        if (!one.is_object()) throw http_error(400, fmt::format("{} of {} is an object", id, of));
        scan::Change change;
        change.id = text_field_if(one, "id");
        if (const auto what = text_field_if(one, "what")) change.what = named(hole_kinds, *what, "what");
        change.dropped = flag_field(one, "dropped");
        change.confirmed = flag_field(one, "confirmed");
        out[id] = std::move(change);
    }
    return out;
}

}  // namespace

Json scan_json(const ScanStanding& standing, const ScanAsked& asked) {
    Json out = {{"id", standing.id},
                {"file", standing.file},
                {"bytes", standing.bytes},
                {"taken", standing.taken},
                {"found", nullptr}};
    if (!standing.surface) return out;
    const auto found = found_in(standing, asked);
    const Speech speech = job::on_page(asked.units.value_or(found.units));
    const auto points = scan::shown_of(standing.surface->few, found);
    auto json = report::json_frame(found.title, found, speech);
    report::join(json, brought::json_of(found, speech));
    out["found"] = std::move(json);
    out["end_for_end"] = asked.end_for_end;
    out["in_doubt"] = in_doubt(found, speech);
    Json valves = Json::array(), holes = Json::array();
    for (const auto& v : found.valves) valves.push_back(wall_json(v.id, v.wall));
    for (const auto& h : found.holes) holes.push_back(wall_json(h.id, h.wall));
    out["walls"] = {{"valves", std::move(valves)}, {"holes", std::move(holes)}};
    out["points"] = {{"count", points.size()}, {"step_mm", step_of(points)}};
    return out;
}

std::string scan_points(const ScanStanding& standing, const ScanAsked& asked) {
    const auto points = scan::shown_of(surface_of(standing).few, found_in(standing, asked));
    const double step = step_of(points);
    std::string out;
    constexpr std::size_t of_one = 8;
    out.reserve(points.size() * of_one);
    for (const auto& p : points) {
        for (const float v : {p.at.x, p.at.y, p.at.z}) {
            const auto n = static_cast<std::uint16_t>(
                static_cast<std::int16_t>(std::lround(static_cast<double>(v) / step)));
            out += static_cast<char>(n & 0xff);
            out += static_cast<char>(n >> 8);
        }
        out += static_cast<char>(p.on);
        out += static_cast<char>(p.which);
    }
    return out;
}

papers::Drawing scan_drawing(const ScanStanding& standing, const ScanAsked& asked, const std::string& valve) {
    const auto found = found_in(standing, asked);
    const auto points = scan::shown_of(surface_of(standing).few, found);
    brought::ScanView view;
    view.unit = asked.units.value_or(found.units);
    if (valve.empty()) return brought::draw_scan_plan(found, points, view);
    for (std::size_t v = 0; v < found.valves.size(); ++v)
        if (found.valves[v].id == valve) {
            constexpr double width = 90;
            view.width = width;
            return brought::draw_scan_section(found, points, v, view);
        }
    throw http_error(404, "there is no valve of that name");
}

std::string job_of_scan(Workbench& bench, const ScanStanding& standing, const ScanAsked& asked,
                        const Json& said, const std::string& by) {
    scan::Changes changes;
    if (!said.is_object()) throw http_error(400, "said is an object: valves and holes by their names");
    changes.valves = changes_in(said, "valves");
    changes.holes = changes_in(said, "holes");
    changes.by = by;
    const scan::Scan found = found_in(standing, asked);
    const auto looked_at = scan::changed(found, changes);
    if (!looked_at) {
        const auto faults =
            as_faults(found, looked_at.error(), job::on_page(asked.units.value_or(found.units)));
        throw http_error(422, fmt::format("{}: {}", faults.front().key, faults.front().text), faults);
    }
    const std::string shop = bench.shelf.current().text;
    const auto text = scan::job_text(*looked_at, {"shelf", first_fixture(shop)});
    if (!text) throw http_error(422, "no guide is left; a job has at least one valve");
    return take(on_the_shelf(*text, shop));
}

}  // namespace seatwright::server
