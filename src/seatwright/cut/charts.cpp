#include "seatwright/cut/charts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "seatwright/base/length_words.hpp"
#include "seatwright/cut/dwell.hpp"
#include "seatwright/cut/moves.hpp"

namespace seatwright::cut {

namespace {
constexpr int chart_points = 240;
}  // namespace

void add_calm(Cut& cut, const job::Job& job, const SeatPlan& plan) {
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
void add_charts(Cut& cut, const job::Job& job, const SeatPlan& plan) {
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
        cut.charts.push_back(std::move(chart));
    }
}

void add_assumptions(Cut& cut, const job::Job& job) {
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
    say(fmt::format("nothing of fixture or clamps within {} of the path stands higher than the head",
                    depth_words(beside_path, job.units)));
}

}  // namespace seatwright::cut
