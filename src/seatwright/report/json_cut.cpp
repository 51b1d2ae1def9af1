#include <algorithm>
#include <nlohmann/json.hpp>

#include "seatwright/job/heads.hpp"
#include "seatwright/report/members.hpp"
#include "seatwright/report/report.hpp"
#include "seatwright/shape/first_read.hpp"
#include "seatwright/words/english_report.hpp"

namespace seatwright::report {

namespace {

std::optional<double> known(const cut::SeatCut& seat, double value) {
    return seat.forces_known ? std::optional<double>(value) : std::nullopt;
}

JsonText seat_json(const job::Job& job, const cut::SeatCut& seat) {
    return {{"id", job.head.valves.at(seat.valve).id},
            {"pilot", seat.pilot ? JsonText(job.pilots.at(*seat.pilot).name) : JsonText(nullptr)},
            {"rpm", as_json(seat.rpm)},
            {"fastest_rpm", as_json(seat.fastest_rpm)},
            {"feed_mm_per_turn", as_json(seat.feed)},
            {"finish_feed_mm_per_turn", as_json(seat.finish_feed)},
            {"surface_m_per_min", as_json(seat.surface_speed)},
            {"chip_mm", as_json(seat.chip)},
            {"torque_nm", as_json(known(seat, seat.torque), 1e-3)},
            {"power_w", as_json(known(seat, seat.power))},
            {"thrust_n", as_json(known(seat, seat.thrust))},
            {"dwell_turns", as_json(seat.dwell_turns)},
            {"stable_width_mm", as_json(seat.stable_width)},
            {"seconds", as_json(seat.seconds)},
            {"total_width_mm", as_json(seat.total_width)},
            {"stable", seat.stable_width ? JsonText(seat.stable) : JsonText(nullptr)}};
}

JsonText estimate_json(const std::optional<cut::Estimate>& estimate, const Speech& speech) {
    if (!estimate) return nullptr;
    JsonText lines = JsonText::array();
    for (const auto& line : estimate->lines)
        lines.push_back({{"what", line.what},
                         {"count", as_json(line.count)},
                         {"rate", as_json(line.rate)},
                         {"amount", as_json(line.amount)}});
    return {{"currency", estimate->currency},
            {"head", as_json(estimate->head)},
            {"lines", lines},
            {"not_included", in_words(estimate->not_included, speech)}};
}

JsonText chart_json(const cut::ChatterChart& chart, Extent extent) {
    JsonText out{{"what", chart.what},
                 {"width_mm", as_json(chart.width)},
                 {"least_width_mm", as_json(chart.least_width)},
                 {"rpm", as_json(chart.rpm)},
                 {"slowest_rpm", as_json(chart.slowest)},
                 {"fastest_rpm", as_json(chart.fastest)},
                 {"stable", chart.stable}};
    if (extent == Extent::page) return out;  // its drawing has them
    JsonText points = JsonText::array();
    for (const auto& point : *chart.border)
        points.push_back(JsonText::numbers({point.rpm, point.stable_width}));
    out["points"] = std::move(points);
    return out;
}

JsonText zero_json(const job::Job& job, const cut::CutterZero& zero, const Speech& speech) {
    const auto& taken = zero.taken;
    return {{"what", shape::word_of(taken.on)},
            {"valve", taken.valve ? JsonText(job.head.valves.at(*taken.valve).id) : JsonText(nullptr)},
            {"x_mm", as_json(taken.at.x())},
            {"y_mm", as_json(taken.at.y())},
            {"z_mm", as_json(taken.zeta)},
            {"kappa_mm", as_json(taken.rest)},
            {"trim_mm", as_json(zero.trim)},
            {"u_mm", as_json(taken.u_worst)},
            {"pilot", zero.pilot ? JsonText(job.pilots.at(*zero.pilot).name) : JsonText(nullptr)},
            {"words", in_words(taken.words, speech)}};
}

// What seats cut short are measured as, and what that should then read; keys of their readings.
JsonText first_readings(const cut::Route& route) {
    JsonText out = JsonText::array();
    for (const cut::ToMeasure& one : cut::to_measure(route))
        out.push_back({{"valve", one.valve},
                       {"figure", shape::word_of(one.figure)},
                       {"planned_mm", as_json(one.planned)}});
    return out;
}

JsonText program_json(const job::Job& job, const cut::Program& program, const Speech& speech) {
    const cut::Route& route = program.route;
    JsonText stops = JsonText::array();
    std::vector<std::string> seats;
    for (const cut::Stop& stop : route.stops) {
        if (std::find(seats.begin(), seats.end(), stop.id) == seats.end()) seats.push_back(stop.id);
        stops.push_back(
            {{"id", stop.id},
             {"x_mm", as_json(stop.at.x())},
             {"y_mm", as_json(stop.at.y())},
             {"z_mm", as_json(job.machine.z_sign * stop.z)},
             {"pilot", stop.pilot ? JsonText(job.pilots.at(*stop.pilot).name) : JsonText(nullptr)},
             {"cutter", stop.tool.number}});
    }
    const bool one_zero = job.machine.zero == job::ZeroKept::program;
    JsonText out{{"head", route.head},
                 {"setup", program.setup},
                 {"cutter", one_zero ? JsonText(route.zeros.front().cutter) : JsonText()},
                 {"file", program.file},
                 {"lines", program.lines},
                 {"seats", seats},
                 {"first", route.part == cut::FilePart::first},
                 {"first_readings", first_readings(route)},
                 {"checked", program.checked},
                 {"zero", one_zero ? zero_json(job, route.zeros.front(), speech) : JsonText()},
                 {"halts", program.halts},
                 {"clear_mm", as_json(job.machine.z_sign * route.clear)},
                 {"positions", route.from_touches ? "found" : "map"},
                 {"stops", stops}};
    if (one_zero) return out;
    out["zeros"] = JsonText::array();
    for (const cut::CutterZero& zero : route.zeros) {
        JsonText of{{"cutter", zero.cutter}};
        of.join(zero_json(job, zero, speech));
        out["zeros"].push_back(std::move(of));
    }
    return out;
}

// A page has a button for what frees it: what a lead may let pass, the key of a figure that is lacking, the
// figure that is asked about, as the file has it and as the page says it; and it says no name twice that
// stands before.
JsonText held_json(const HeldBack& held, const Speech& speech) {
    JsonText out{{"setup", held.setup},
                 {"valve", held.valve ? JsonText(*held.valve) : JsonText(nullptr)},
                 {"code", word_of(held.code)},
                 {"reason", in_words(held.reason, speech)},
                 {"frees", in_words(held.frees, speech)},
                 {"values", values_text(held.reason, speech)}};
    if (!speech.on_page()) return out;
    const Key* key = key_alone(held.frees);
    out["named"] = held.valve ? *held.valve : in_words(sentence<"setup-of">("setup"_is = held.setup), speech);
    out["key"] = key == nullptr ? JsonText(nullptr) : JsonText(key->path);
    out["allow"] = held.allow.empty() ? JsonText(nullptr) : JsonText(held.allow);
    out["sure"] = held.sure.empty()
                      ? JsonText(nullptr)
                      : JsonText{{"entry", in_words(held.sure, {speech.unit, speech.catalogue})},
                                 {"said", in_words(held.sure, speech)}};
    return out;
}

}  // namespace

JsonMembers members_of(const job::Job& job, const cut::Cut& cut, const Speech& speech, Extent extent) {
    JsonMembers out;
    out["seats"] = JsonText::array();
    for (const auto& seat : cut.seats) out["seats"].push_back(seat_json(job, seat));
    out["order"] = JsonText::array();
    for (const std::size_t valve : cut.order) out["order"].push_back(job.head.valves.at(valve).id);
    out["seconds_head"] = as_json(cut.seconds_head);
    out["estimate"] = estimate_json(cut.estimate, speech);
    out["programs"] = JsonText::array();
    for (const auto& program : cut.programs) out["programs"].push_back(program_json(job, program, speech));
    out["held_back"] = JsonText::array();
    for (const HeldBack& held : cut.held_back) out["held_back"].push_back(held_json(held, speech));
    out["calm_rpm"] = JsonText::array();
    for (const double rpm : cut.calm_rpm) out["calm_rpm"].push_back(as_json(rpm));
    out["cutters"] = JsonText::array();
    for (const cut::Tool& tool : cut.tools)
        out["cutters"].push_back({{"number", tool.number},
                                  {"cutter", job.cutters.at(tool.cutter).name},
                                  {"blade_setting_mm", as_json(tool.blade_setting)}});
    out["cutter_changes"] = cut.cutter_changes;
    out["halts_head"] = cut.halts_head;
    out["path_mm"] = as_json(cut.path);
    out["path_bound_mm"] = as_json(cut.path_bound);
    out["seconds"] = {{"load", as_json(cut.times.load)},
                      {"setups", as_json(cut.times.setups)},
                      {"cutter_changes", as_json(cut.times.changes)},
                      {"seats", as_json(cut.times.seats)}};
    out["seconds_batch"] = as_json(cut.seconds_head * static_cast<double>(job::known_heads(job).size()));
    out["chatter"] = JsonText::array();
    for (const auto& chart : cut.charts) out["chatter"].push_back(chart_json(chart, extent));
    return out;
}

nlohmann::ordered_json json_of(const job::Job& job, const cut::Cut& cut, const Speech& speech,
                               Extent extent) {
    return json_of(members_of(job, cut, speech, extent));
}

}  // namespace seatwright::report
