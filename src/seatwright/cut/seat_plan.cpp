#include "seatwright/cut/seat_plan.hpp"
#include "seatwright/find/pilots.hpp"
#include "seatwright/job/kind_word.hpp"
#include "seatwright/words/english_cut.hpp"

#include <algorithm>

namespace seatwright::cut {

namespace {

class Planner {
  public:
    Planner(const job::Job& job, std::vector<find::PilotChoice> pilots)
        : job_(job), pilots_(std::move(pilots)) {}

    SeatPlan run(const shape::Shape& shape) {
        for (std::size_t i = 0; i < shape.seats.size(); ++i) {
            const shape::Seat& seat = shape.seats[i];
            if (seat.decision != shape::Decision::cut || seat.section.points.size() < 2) continue;
            plan_.seats.push_back(seat_cut(seat.valve, work(seat)));
            plan_.shaped.push_back(i);
        }
        return std::move(plan_);
    }

  private:
    static SeatCut seat_cut(std::size_t valve, const WorkedForm& form) {
        const Conditions& c = form.conditions;
        SeatCut seat;
        seat.valve = valve;
        seat.rpm = c.rpm;
        seat.feed = c.feed;
        seat.finish_feed = c.finish_feed;
        seat.fastest_rpm = c.fastest_rpm;
        seat.surface_speed = c.surface_speed;
        seat.chip = c.load.chip;
        seat.torque = c.load.torque;
        seat.power = c.power;
        seat.thrust = c.load.thrust;
        seat.dwell_turns = c.dwell_turns;
        seat.stable_width = c.stable_width;
        seat.stable = c.stable;
        seat.forces_known = c.forces_known;
        seat.total_width = form.total_width;
        seat.pilot_bending = c.pilot_bending;
        return seat;
    }

    void warn_once(Warning warning) {
        // Pilots of neighbouring sizes say the same of one kind of seat: the first one speaks.
        const auto about = [](const Warning& w) { return w.text.values().front(); };
        const auto same = [&](const Warning& w) {
            return w.code == warning.code && about(w) == about(warning);
        };
        if (std::none_of(plan_.warnings.begin(), plan_.warnings.end(), same))
            plan_.warnings.push_back(std::move(warning));
    }

    std::optional<std::size_t> pilot_of(std::size_t valve) const {
        for (const find::PilotChoice& choice : pilots_)
            if (choice.valve == valve) return choice.pilot;
        return std::nullopt;
    }

    const WorkedForm& work(const shape::Seat& seat) {
        const job::Kind kind = job_.head.valves.at(seat.valve).kind;
        const auto pilot = pilot_of(seat.valve);
        for (const WorkedForm& known : plan_.forms)
            if (known.kind == kind && known.cutter == seat.cutter && known.pilot == pilot &&
                known.section == seat.section.points)
                return known;
        const auto& drawn = job_.seat[kind];
        ConditionsAsked asked;
        asked.form = engaged_form(seat.section, drawn ? drawn->angle : 0);
        asked.what = sentence<"seats-of-kind">("kind"_is = job::kind_said(kind));
        if (seat.cutter) asked.blades = std::max(1, job_.cutters.at(*seat.cutter).blades);
        if (pilot) asked.pilot = job_.pilots.at(*pilot);
        asked.speed = job_.cut.speed;
        asked.material = material_of(kind);
        Conditions conditions = choose_conditions(asked, job_.machine);
        for (const Warning& warning : conditions.warnings) warn_once(warning);
        plan_.forms.push_back({kind, seat.cutter, pilot, seat.section.points, asked.form.total_width,
                               asked.blades, std::move(conditions)});
        return plan_.forms.back();
    }

    void gap(const std::string& name, const Sentence& what, Severity severity) {
        warn_once({"cut", "cutting-data", std::nullopt,
                   sentence<"material-gap">("material"_is = name, "gap"_is = what), severity});
    }

    job::Material material_of(job::Kind kind) {
        const auto& drawn = job_.seat[kind];
        const std::string& name = drawn && !drawn->material.empty() ? drawn->material : job_.head.material;
        const job::Material* known = job_.material(name);
        if (known == nullptr) {
            gap(name, sentence<"not-on-shelf">(), Severity::blocking);
            return {};
        }
        if (!known->speed || !known->feed) gap(name, sentence<"no-speed-or-feed">(), Severity::note);
        if (!known->kc11 || !known->mc) gap(name, sentence<"no-forces">(), Severity::note);
        return *known;
    }

    const job::Job& job_;
    const std::vector<find::PilotChoice> pilots_;
    SeatPlan plan_;
};

}  // namespace

SeatPlan plan_seats(const job::Job& job, const find::Find& find, const shape::Shape& shape) {
    return Planner(job, find::pilots_of(job, find, shape.head)).run(shape);
}

}  // namespace seatwright::cut
