#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <set>

#include "seatwright/base/length_words.hpp"
#include "seatwright/cut/cut.hpp"
#include "seatwright/cut/dwell.hpp"
#include "seatwright/cut/estimate.hpp"
#include "seatwright/cut/moves.hpp"
#include "seatwright/cut/program.hpp"
#include "seatwright/cut/readback.hpp"
#include "seatwright/cut/seat_plan.hpp"
#include "seatwright/cut/sequence.hpp"

namespace seatwright::cut {

namespace {

constexpr int chart_points = 240;

// The shop's file ending, unless it would make another path of the name.
std::string ending_of(const job::Dialect& dialect) {
    const std::string& ending = dialect.file_ending;
    const bool plain = !ending.empty() && std::all_of(ending.begin(), ending.end(),
                                                      [](unsigned char c) { return std::isalnum(c) != 0; });
    return plain ? ending : "ngc";
}

// A program that fails its read-back is never handed out; the reason is.
void write_programs(Cut& cut, const job::Job& job, const hold::Hold& hold, std::vector<Route> routes) {
    for (Route& route : routes) {
        const hold::Setup& setup = hold.setups[route.setup];
        std::string text = write_program(job, setup, route);
        if (const auto fault = read_back(text, job, route)) {
            cut.warnings.push_back(
                {"cut", "program-refused", std::nullopt,
                 fmt::format("the program of setup {} is not handed out: {}{}", setup.id, fault->text,
                             fault->line ? fmt::format(" (its line {})", fault->line) : ""),
                 Weight::blocking});
            continue;
        }
        Program program;
        program.setup = setup.id;
        program.file = fmt::format("program-{}.{}", setup.id, ending_of(job.dialect));
        program.lines = static_cast<std::size_t>(std::count(text.begin(), text.end(), '\n'));
        program.text = std::move(text);
        program.route = std::move(route);
        cut.programs.push_back(std::move(program));
    }
}

// From the last place to clear of this seat again.
double stop_seconds(const Stop& stop, const Vec2& from, double clear, const Drive& drive) {
    double seconds = move_seconds((stop.at - from).norm(), drive);
    seconds += move_seconds(std::max(0.0, clear - stop.entry_top), drive, approach_feed);
    seconds += move_seconds(stop.entry_top - stop.entry_end, drive, pilot_entry_feed);
    seconds += move_seconds(stop.entry_end - stop.cut_start, drive, approach_feed);
    seconds += move_seconds(stop.cut_start - stop.z, drive, stop.feed);
    return seconds + stop.dwell_seconds + move_seconds(clear - stop.z, drive);
}

void time_head(Cut& cut, const job::Job& job, const std::vector<Route>& routes) {
    const Drive drive = drive_of(job.machine);
    for (const Route& route : routes) {
        Vec2 from = Vec2::Zero();  // over the datum guide, where the readout was zeroed
        for (const Stop& stop : route.stops) {
            const auto seat = std::find_if(cut.seats.begin(), cut.seats.end(),
                                           [&](const SeatCut& s) { return s.valve == stop.valve; });
            seat->seconds = stop_seconds(stop, from, route.clear, drive);
            cut.times.seats += seat->seconds;
            from = stop.at;
        }
    }
    if (routes.empty()) return;
    cut.times.load = load_seconds;
    cut.times.setups = setup_seconds * static_cast<double>(routes.size());
    // The first cutter has to go in too.
    cut.times.changes = change_seconds * (cut.cutter_changes + 1);
    cut.seconds_head = cut.times.load + cut.times.setups + cut.times.changes + cut.times.seats;
}

void calm(Cut& cut, const job::Job& job, const SeatPlan& plan) {
    const auto& machine = job.machine;
    if (!machine.mode || !machine.rpm_max) return;
    std::set<int> blades;
    for (const WorkedForm& form : plan.forms) blades.insert(form.blades);
    if (blades.empty()) blades.insert(1);
    for (const int z : blades)
        for (const double rpm : calm_speeds(machine.mode->frequency, z,
                                            machine.rpm_min.value_or(slowest_spindle), *machine.rpm_max))
            cut.calm_rpm.push_back(rpm);
    std::sort(cut.calm_rpm.rbegin(), cut.calm_rpm.rend());
    cut.calm_rpm.erase(std::unique(cut.calm_rpm.begin(), cut.calm_rpm.end()), cut.calm_rpm.end());
}

// A form appears once, however many pilots its guides take.
void charts(Cut& cut, const job::Job& job, const SeatPlan& plan) {
    double widest = 0;
    for (const WorkedForm& form : plan.forms) {
        const Conditions& c = form.conditions;
        if (!c.lobes) continue;
        ChatterChart chart;
        chart.what = form.kind == job::Kind::intake ? "intake seats" : "exhaust seats";
        chart.width = form.total_width;
        chart.least_width = least_width(*c.lobes);
        chart.rpm = c.rpm;
        chart.slowest = c.slowest;
        chart.fastest = c.fastest;
        chart.stable = c.stable;
        const auto same = [&](const ChatterChart& other) {
            return other.what == chart.what && other.width == chart.width && other.rpm == chart.rpm &&
                   other.least_width == chart.least_width;
        };
        if (std::any_of(cut.charts.begin(), cut.charts.end(), same)) continue;
        // Half as far again on both sides of what is allowed, within the machine.
        const double low = std::max(job.machine.rpm_min.value_or(slowest_spindle), 0.5 * c.slowest);
        const double high =
            std::max(low + 1, std::min(job.machine.rpm_max.value_or(2 * c.fastest), 1.5 * c.fastest));
        for (int i = 0; i <= chart_points; ++i) {
            const double rpm = low + (high - low) * i / chart_points;
            chart.points.push_back({rpm, stable_width(*c.lobes, rpm)});
        }
        if (chart.width > widest) {
            widest = chart.width;
            cut.chatter = chart.points;
        }
        cut.charts.push_back(std::move(chart));
    }
}

void assumptions(Cut& cut, const job::Job& job) {
    const auto say = [&](std::string text) { cut.assumptions.push_back("assumes " + std::move(text)); };
    if (cut.seats.empty()) return;
    say("every facet of the form is in cut at once over its whole width, with sharp blades that share the "
        "chip "
        "evenly (Kienzle's law per facet)");
    say(fmt::format("a deflection of {:.0f} um is allowed to remain when the dwell ends",
                    1000 * dwell_residue));
    if (!job.machine.axial_stiffness)
        say(fmt::format(
            "a dwell of {:.0f} turns, since the machine's axial stiffness is not known (common practice "
            "1 to 3)",
            usual_dwell_turns));
    const bool bends = std::any_of(cut.seats.begin(), cut.seats.end(), [](const SeatCut& seat) {
        return seat.pilot_bending && seat.pilot_bending->stress > 0;
    });
    if (bends)
        say(job.machine.float_stiffness
                ? "a steel pilot and the locked float bear the side force of a single blade like two springs"
                : "a steel pilot alone bears the side force of a single blade");
    if (job.machine.mode)
        say("one mode of chatter, along the cutting force, a cutting stiffness of kc at the sealing facet's "
            "chip "
            "times the blades, and no damping from a worn edge (slow speeds are steadier than said)");
    say(fmt::format(
        "{:.0f} s to load and unload a head, {:.0f} s for each setup, {:.0f} s for each cutter put in",
        load_seconds, setup_seconds, change_seconds));
    if (!job.machine.rapid || !job.machine.accel)
        say(job.units == LengthUnit::inch
                ? fmt::format("rapids of {:.0f} in/min and {:.0f} in/s2 where the machine does not say",
                              usual_rapid * 60 / mm_per_inch, usual_accel / mm_per_inch)
                : fmt::format("rapids of {:.1f} m/min and {:.1f} m/s2 where the machine does not say",
                              usual_rapid * 60 / 1000, usual_accel / 1000));
    say(
        fmt::format("nothing of fixture or clamps within {} of the path stands higher than the head, and the "
                    "pilot's tip no further below the cutter than the guide's lower end",
                    depth_words(beside_path, job.units)));
}

}  // namespace

Cut plan(const job::Job& job, const hold::Hold& hold, const find::Find& find, const shape::Shape& shape,
         [[maybe_unused]] const job::Selection& selection) {
    Cut cut;
    SeatPlan seats = plan_seats(job, find, shape);
    Sequence sequence = sequence_seats(job, hold, shape, seats);
    cut.seats = seats.seats;
    cut.warnings = seats.warnings;
    cut.warnings.insert(cut.warnings.end(), sequence.warnings.begin(), sequence.warnings.end());
    cut.tools = sequence.tools;
    cut.cutter_changes = sequence.changes;
    cut.path = sequence.path;
    cut.path_bound = sequence.path_bound;
    for (const Sequenced& at : sequence.stops) cut.order.push_back(seats.seats[at.seat].valve);
    const std::vector<Route> routes = routes_of(job, hold, find, shape, seats, sequence);
    time_head(cut, job, routes);
    write_programs(cut, job, hold, routes);
    cut.estimate = estimate_of(job, find, shape);
    calm(cut, job, seats);
    charts(cut, job, seats);
    assumptions(cut, job);
    return cut;
}

}  // namespace seatwright::cut
