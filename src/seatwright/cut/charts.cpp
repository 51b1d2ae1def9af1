#include "seatwright/cut/charts.hpp"

#include <algorithm>
#include <array>
#include <memory>
#include <set>

#include "seatwright/base/cache.hpp"
#include "seatwright/cut/dwell.hpp"
#include "seatwright/cut/moves.hpp"
#include "seatwright/job/kind_word.hpp"
#include "seatwright/job/of_head.hpp"
#include "seatwright/shape/before.hpp"
#include "seatwright/words/english_cut.hpp"

namespace seatwright::cut {

namespace {

constexpr int chart_points = 240;

using Border = std::vector<ChatterPoint>;

// Worked out once for a mode, a form's blades and a range of speeds: each reading of a head asks for it
// again.
std::shared_ptr<const Border> border_of(const Lobes& lobes, double low, double high) {
    using Given = std::array<double, 7>;
    constexpr std::size_t kept_at_most = 64;
    static Cache<Given, const Border> kept(kept_at_most);
    const job::Mode& mode = lobes.mode;
    const Given given{mode.frequency,
                      mode.stiffness,
                      mode.damping,
                      lobes.cutting_stiffness,
                      double(lobes.blades),
                      low,
                      high};
    return kept.get(given, [&] {
        auto border = std::make_shared<Border>();
        for (int i = 0; i <= chart_points; ++i) {
            const double rpm = low + (high - low) * i / chart_points;
            border->push_back({rpm, stable_width(lobes, rpm)});
        }
        return border;
    });
}

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
        chart.what = std::string(job::kind_word(form.kind)) + " seats";
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
        chart.border = border_of(*c.lobes, low, high);
        cut.charts.push_back(std::move(chart));
    }
}

namespace {

// Seats that are cut to a height though nobody read where they stand.
std::vector<Sentence> unread_seats(const job::Job& job, const shape::Shape& shape) {
    std::vector<std::string> with_ring, without;
    for (const shape::Seat& seat : shape.seats) {
        if (!seat.stop_s || seat.depth || seat.rest) continue;
        const job::Valve& valve = job.head.valves.at(seat.valve);
        (shape::rest_on_new_ring(job, valve.kind) ? with_ring : without).push_back(valve.id);
    }
    std::vector<Sentence> said;
    if (!with_ring.empty()) said.push_back(sentence<"unread-as-ring">("seats"_is = list_of(with_ring)));
    if (!without.empty()) said.push_back(sentence<"unread-as-drawn">("seats"_is = list_of(without)));
    return said;
}

// First seats whose reading does not say what its own file planned.
std::vector<std::string> first_of_this_plan(const job::Job& job, const shape::Shape& shape) {
    std::vector<std::string> out;
    for (const job::FirstSeat& first : job::of_head(job.readings.firsts, shape.head))
        if (!first.planned && std::find(out.begin(), out.end(), first.valve) == out.end())
            out.push_back(first.valve);
    return out;
}

}  // namespace

void add_assumptions(Cut& cut, const job::Job& job, const shape::Shape& shape) {
    const auto say = [&](Sentence sentence) { cut.assumptions.push_back(std::move(sentence)); };
    if (cut.seats.empty()) return;
    for (Sentence& unread : unread_seats(job, shape)) say(std::move(unread));
    if (const auto firsts = first_of_this_plan(job, shape); !firsts.empty())
        say(sentence<"first-of-this-plan">("seats"_is = list_of(firsts, Join::with_and)));
    say(sentence<"every-facet">());
    say(sentence<"deflection">("um"_is = as_number(1000 * dwell_residue, 0)));
    if (!job.machine.axial_stiffness)
        say(sentence<"dwell-turns">("turns"_is = as_number(usual_dwell_turns, 0)));
    const bool bends = std::any_of(cut.seats.begin(), cut.seats.end(), [](const SeatCut& seat) {
        return seat.pilot_bending && seat.pilot_bending->stress > 0;
    });
    if (bends) say(job.machine.float_stiffness ? sentence<"two-springs">() : sentence<"pilot-alone">());
    if (job.machine.mode) say(sentence<"one-mode">());
    say(sentence<"times">("load"_is = as_number(load_seconds, 0), "setup"_is = as_number(setup_seconds, 0),
                          "change"_is = as_number(change_seconds, 0)));
    if (!job.machine.rapid || !job.machine.accel)
        say(sentence<"rapids">("rapid"_is = as_rapid(usual_rapid),
                               "accel"_is = as_acceleration(usual_accel)));
    say(sentence<"nothing-higher">("within"_is = as_depth(beside_path)));
}

}  // namespace seatwright::cut
