#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/base/unit_words.hpp"
#include "seatwright/report/head_time.hpp"
#include "seatwright/report/report.hpp"
#include "seatwright/report/show.hpp"
#include "seatwright/report/typed.hpp"
#include "seatwright/words/english_report.hpp"

namespace seatwright::report {

namespace {

constexpr std::ptrdiff_t calm_each_side = 3;  // calm speeds shown below a speed chosen, and above it

std::string known(const cut::SeatCut& seat, double value, int decimals) {
    return seat.forces_known ? fmt::format("{:.{}f}", value, decimals) : "–";
}

std::string minutes(double seconds) {
    const auto whole = static_cast<long>(std::lround(seconds));
    return fmt::format("{}:{:02}", whole / 60, whole % 60);
}

std::string seats_text(const job::Job& job, const cut::Cut& cut, const TextStyle& style) {
    const std::string unit = unit_name(style.unit);
    const auto name = [](const char* what, const InUnit& shown) { return std::string(what) + shown.unit; };
    const auto unit_of = style.unit;
    Table table({"valve", "rpm", surface_speed_in_unit(0, unit_of).unit, "feed " + unit + "/turn",
                 "chip " + unit, name("torque ", torque_in_unit(0, unit_of)),
                 name("power ", power_in_unit(0, unit_of)), name("thrust ", force_in_unit(0, unit_of)),
                 "dwell turns", "form " + unit, "stable " + unit, "time s"});
    for (const auto& seat : cut.seats)
        table.row({job.head.valves[seat.valve].id, fmt::format("{:g}", seat.rpm),
                   fmt::format("{:.1f}", surface_speed_in_unit(seat.surface_speed, unit_of).value),
                   length(seat.feed, unit_of), length(seat.chip, unit_of),
                   known(seat, torque_in_unit(seat.torque, unit_of).value, 2),
                   known(seat, power_in_unit(seat.power, unit_of).value, unit_of == LengthUnit::inch ? 2 : 0),
                   known(seat, force_in_unit(seat.thrust, unit_of).value, 0),
                   fmt::format("{:g}", seat.dwell_turns), length(seat.total_width, style.unit),
                   length(seat.stable_width, style.unit),
                   seat.seconds > 0 ? fmt::format("{:.0f}", seat.seconds) : "–"});
    return table.text(style.table);
}

// The plain table a person types by hand: one row a seat, in the order they are cut.
std::string typed_text(const job::Job& job, const cut::Program& program, const TextStyle& style) {
    const std::string unit = unit_name(style.unit);
    Table table({"", "valve", "cutter", "X " + unit, "Y " + unit, "Z " + unit, "rpm", "feed " + unit + "/min",
                 "dwell s"});
    const cut::Route& route = program.route;
    for (std::size_t i = 0; i < route.stops.size(); ++i) {
        const cut::Stop& stop = route.stops[i];
        table.row({std::to_string(i + 1), job.head.valves[stop.valve].id, std::to_string(stop.tool.number),
                   length(stop.at.x(), style.unit), length(stop.at.y(), style.unit),
                   length(typed_z(job.machine, job.machine.z_sign * stop.z), style.unit),
                   fmt::format("{:g}", stop.rpm), length(60 * stop.feed, style.unit),
                   fmt::format("{:.2f}", std::ceil(stop.dwell_seconds * 100 - 1e-6) / 100)});
    }
    const auto clear = "clear"_is = as_length(job.machine.z_sign * route.clear);
    return heading_text(fmt::format("Setup {}: {}, {} lines, read back and found right", program.setup,
                                    program.file, program.lines),
                        style.table) +
           in_words(route.from_touches ? sentence<"found-by-touches">("head"_is = route.head, clear)
                                       : sentence<"of-the-map">(clear),
                    style.speech()) +
           '\n' + table.text(style.table);
}

std::string cutters_text(const job::Job& job, const cut::Cut& cut, const TextStyle& style) {
    Table table({"", "cutter", std::string("blades set to ") + unit_name(style.unit)});
    for (const cut::Tool& tool : cut.tools)
        table.row({std::to_string(tool.number), job.cutters[tool.cutter].name,
                   length(tool.blade_setting, style.unit)});
    // Differences below a hundredth of a millimetre are rounding.
    const double gap = cut.path - cut.path_bound;
    const Sentence proof = gap < 0.01 ? sentence<"no-order-shorter">()
                                      : sentence<"longer-than-shortest">("gap"_is = as_length(gap));
    const Sentence times = cut.cutter_changes == 0 ? sentence<"not-changed">()
                           : cut.cutter_changes == 1
                               ? sentence<"changed-once">()
                               : sentence<"changed-times">("times"_is = cut.cutter_changes);
    return heading_text("Cutters", style.table) + table.text(style.table) +
           in_words(sentence<"changed-on-the-way">("times"_is = times, "path"_is = as_length(cut.path),
                                                   "proof"_is = proof),
                    style.speech()) +
           '\n';
}

// Of the calm speeds of the range those about the speeds chosen.
std::string calm_text(const cut::Cut& cut, double slowest, double fastest) {
    std::vector<double> calm;
    for (const double rpm : cut.calm_rpm)
        if (rpm >= slowest && rpm <= fastest) calm.push_back(rpm);
    std::sort(calm.begin(), calm.end());
    std::vector<bool> shown(calm.size());
    for (const auto& chart : cut.charts) {
        const auto at = std::lower_bound(calm.begin(), calm.end(), chart.rpm) - calm.begin();
        const auto from = std::max<std::ptrdiff_t>(0, at - calm_each_side);
        const auto to = std::min(std::ssize(calm), at + calm_each_side);
        std::fill(shown.begin() + from, shown.begin() + to, true);
    }
    std::string listed;
    std::size_t left_out = calm.size();
    for (std::size_t i = 0; i < calm.size(); ++i) {
        if (!shown[i]) continue;
        listed += fmt::format("  {:.1f}", calm[i]);
        --left_out;
    }
    if (listed.empty()) return {};
    if (left_out == 0) return fmt::format("calm speeds in the range, rpm:{}\n", listed);
    return fmt::format("calm speeds about those chosen, rpm:{}; {} more in the range\n", listed, left_out);
}

std::string chatter_text(const cut::Cut& cut, const TextStyle& style) {
    std::string out = heading_text("Chatter", style.table);
    double slowest = cut.charts.front().slowest, fastest = cut.charts.front().fastest;
    for (const auto& chart : cut.charts) {
        slowest = std::min(slowest, chart.slowest);
        fastest = std::max(fastest, chart.fastest);
        out += fmt::format("{}: {} of cut at {:g} rpm, {}; {} is stable at any speed\n", chart.what,
                           length_with_unit(chart.width, style.unit), chart.rpm,
                           chart.stable ? "stable" : "not stable",
                           length_with_unit(chart.least_width, style.unit));
    }
    return out + calm_text(cut, slowest, fastest);
}

std::string time_text(const cut::Cut& cut, const job::Job& job, const TextStyle& style) {
    const auto heads = static_cast<double>(job.heads().size());
    std::string out = heading_text("Time", style.table);
    Table table({"", "min:s"});
    table.row({"load and unload", minutes(cut.times.load)});
    table.row({"setups", minutes(cut.times.setups)});
    table.row({fmt::format("cutters put in, {}", cut.tools.empty() ? 0 : cut.cutter_changes + 1),
               minutes(cut.times.changes)});
    const HeadTime seats = head_time(cut);
    if (seats.in_files > 0 || seats.in_no_file == 0)
        table.row({fmt::format("{} seats", seats.in_files), minutes(seats.in_files_seconds)});
    if (seats.in_no_file > 0)  // the rest of what both come to, so that the rows add up
        table.row(
            {fmt::format("{} {} in no file", seats.in_no_file, seats.in_no_file == 1 ? "seat" : "seats"),
             minutes(std::round(cut.times.seats) - std::round(seats.in_files_seconds))});
    table.row({"one head", minutes(cut.seconds_head)});
    if (heads > 1) table.row({fmt::format("{:g} heads", heads), minutes(heads * cut.seconds_head)});
    return out + table.text(style.table);
}

std::string estimate_text(const cut::Estimate& estimate, const TextStyle& style) {
    Table table({"", "count", "rate", "amount " + estimate.currency});
    for (const auto& line : estimate.lines)
        table.row({line.what, fmt::format("{:g}", line.count), fmt::format("{:.2f}", line.rate),
                   fmt::format("{:.2f}", line.amount)});
    table.row({"one head", "", "", fmt::format("{:.2f}", estimate.head)});
    std::string out = heading_text("Estimate", style.table) + table.text(style.table);
    return out + fmt::format("not included: {}\n",
                             fmt::join(in_words(estimate.not_included, style.speech()), "; "));
}

}  // namespace

std::string text_of(const job::Job& job, const cut::Cut& cut, const TextStyle& style) {
    std::string out = heading_text("Speeds and feeds", style.table) + seats_text(job, cut, style);
    if (!cut.tools.empty()) out += '\n' + cutters_text(job, cut, style);
    for (const auto& program : cut.programs) out += '\n' + typed_text(job, program, style);
    if (!cut.charts.empty()) out += '\n' + chatter_text(cut, style);
    out += '\n' + time_text(cut, job, style);
    if (cut.estimate) out += '\n' + estimate_text(*cut.estimate, style);
    return out;
}

}  // namespace seatwright::report
