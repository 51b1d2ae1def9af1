#include <algorithm>
#include <nlohmann/json.hpp>

#include "seatwright/job/heads.hpp"
#include "seatwright/report/report.hpp"
#include "seatwright/report/values_json.hpp"

namespace seatwright::report {

using nlohmann::ordered_json;

namespace {

std::optional<double> known(const cut::SeatCut& seat, double value) {
    return seat.forces_known ? std::optional<double>(value) : std::nullopt;
}

ordered_json seat_json(const job::Job& job, const cut::SeatCut& seat) {
    return {{"id", job.head.valves.at(seat.valve).id},
            {"pilot", seat.pilot ? ordered_json(job.pilots.at(*seat.pilot).name) : ordered_json(nullptr)},
            {"rpm", number(seat.rpm)},
            {"fastest_rpm", number(seat.fastest_rpm)},
            {"feed_mm_per_turn", number(seat.feed)},
            {"finish_feed_mm_per_turn", number(seat.finish_feed)},
            {"surface_m_per_min", number(seat.surface_speed)},
            {"chip_mm", number(seat.chip)},
            {"torque_nm", number(known(seat, seat.torque), 1e-3)},
            {"power_w", number(known(seat, seat.power))},
            {"thrust_n", number(known(seat, seat.thrust))},
            {"dwell_turns", number(seat.dwell_turns)},
            {"stable_width_mm", number(seat.stable_width)},
            {"seconds", number(seat.seconds)},
            {"total_width_mm", number(seat.total_width)},
            {"stable", seat.stable_width ? ordered_json(seat.stable) : ordered_json(nullptr)}};
}

ordered_json estimate_json(const std::optional<cut::Estimate>& estimate, const Speech& speech) {
    if (!estimate) return nullptr;
    ordered_json lines = ordered_json::array();
    for (const auto& line : estimate->lines)
        lines.push_back({{"what", line.what},
                         {"count", number(line.count)},
                         {"rate", number(line.rate)},
                         {"amount", number(line.amount)}});
    return {{"currency", estimate->currency},
            {"head", number(estimate->head)},
            {"lines", lines},
            {"not_included", in_words(estimate->not_included, speech)}};
}

ordered_json chart_json(const cut::ChatterChart& chart) {
    ordered_json points = ordered_json::array();
    for (const auto& point : chart.points) points.push_back({number(point.rpm), number(point.stable_width)});
    return {{"what", chart.what},
            {"width_mm", number(chart.width)},
            {"least_width_mm", number(chart.least_width)},
            {"rpm", number(chart.rpm)},
            {"slowest_rpm", number(chart.slowest)},
            {"fastest_rpm", number(chart.fastest)},
            {"stable", chart.stable},
            {"points", points}};
}

ordered_json zero_json(const job::Job& job, const cut::CutterZero& zero, const Speech& speech) {
    const auto& taken = zero.taken;
    return {
        {"what", shape::word_of(taken.on)},
        {"valve", taken.valve ? ordered_json(job.head.valves.at(*taken.valve).id) : ordered_json(nullptr)},
        {"x_mm", number(taken.at.x())},
        {"y_mm", number(taken.at.y())},
        {"z_mm", number(taken.zeta)},
        {"kappa_mm", number(taken.rest)},
        {"trim_mm", number(zero.trim)},
        {"u_mm", number(taken.u_worst)},
        {"pilot", zero.pilot ? ordered_json(job.pilots.at(*zero.pilot).name) : ordered_json(nullptr)},
        {"words", in_words(taken.words, speech)}};
}

ordered_json program_json(const job::Job& job, const cut::Program& program, const Speech& speech) {
    const cut::Route& route = program.route;
    ordered_json stops = ordered_json::array(), seats = ordered_json::array();
    for (const cut::Stop& stop : route.stops) {
        if (!std::any_of(seats.begin(), seats.end(), [&](const auto& id) { return id == stop.id; }))
            seats.push_back(stop.id);
        stops.push_back(
            {{"id", stop.id},
             {"x_mm", number(stop.at.x())},
             {"y_mm", number(stop.at.y())},
             {"z_mm", number(job.machine.z_sign * stop.z)},
             {"pilot", stop.pilot ? ordered_json(job.pilots.at(*stop.pilot).name) : ordered_json(nullptr)},
             {"cutter", stop.tool.number}});
    }
    ordered_json out{{"head", route.head},
                     {"setup", program.setup},
                     {"cutter", nullptr},
                     {"file", program.file},
                     {"lines", program.lines},
                     {"seats", seats},
                     {"first", route.part == cut::FilePart::first},
                     {"checked", program.checked},
                     {"zero", nullptr},
                     {"halts", program.halts},
                     {"clear_mm", number(job.machine.z_sign * route.clear)},
                     {"positions", route.from_touches ? "found" : "map"},
                     {"stops", stops}};
    if (job.machine.zero == job::ZeroKept::program) {
        out["cutter"] = route.zeros.front().cutter;
        out["zero"] = zero_json(job, route.zeros.front(), speech);
        return out;
    }
    out["zeros"] = ordered_json::array();
    for (const cut::CutterZero& zero : route.zeros) {
        ordered_json of{{"cutter", zero.cutter}};
        of.update(zero_json(job, zero, speech));
        out["zeros"].push_back(std::move(of));
    }
    return out;
}

}  // namespace

ordered_json json_of(const job::Job& job, const cut::Cut& cut, const Speech& speech) {
    ordered_json out = with_room(16);
    out["seats"] = ordered_json::array();
    for (const auto& seat : cut.seats) out["seats"].push_back(seat_json(job, seat));
    out["order"] = ordered_json::array();
    for (const std::size_t valve : cut.order) out["order"].push_back(job.head.valves.at(valve).id);
    out["seconds_head"] = number(cut.seconds_head);
    out["estimate"] = estimate_json(cut.estimate, speech);
    out["programs"] = ordered_json::array();
    for (const auto& program : cut.programs) out["programs"].push_back(program_json(job, program, speech));
    out["held_back"] = ordered_json::array();
    for (const HeldBack& held : cut.held_back)
        out["held_back"].push_back({{"setup", held.setup},
                                    {"valve", held.valve ? ordered_json(*held.valve) : ordered_json(nullptr)},
                                    {"code", word_of(held.code)},
                                    {"reason", in_words(held.reason, speech)},
                                    {"frees", in_words(held.frees, speech)},
                                    {"values", values_json(held.reason, speech)}});
    out["calm_rpm"] = ordered_json::array();
    for (const double rpm : cut.calm_rpm) out["calm_rpm"].push_back(number(rpm));
    out["cutters"] = ordered_json::array();
    for (const cut::Tool& tool : cut.tools)
        out["cutters"].push_back({{"number", tool.number},
                                  {"cutter", job.cutters.at(tool.cutter).name},
                                  {"blade_setting_mm", number(tool.blade_setting)}});
    out["cutter_changes"] = cut.cutter_changes;
    out["halts_head"] = cut.halts_head;
    out["path_mm"] = number(cut.path);
    out["path_bound_mm"] = number(cut.path_bound);
    out["seconds"] = {{"load", number(cut.times.load)},
                      {"setups", number(cut.times.setups)},
                      {"cutter_changes", number(cut.times.changes)},
                      {"seats", number(cut.times.seats)}};
    out["seconds_batch"] = number(cut.seconds_head * static_cast<double>(job::known_heads(job).size()));
    out["chatter"] = ordered_json::array();
    for (const auto& chart : cut.charts) out["chatter"].push_back(chart_json(chart));
    return out;
}

}  // namespace seatwright::report
