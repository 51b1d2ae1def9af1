#include "seatwright/cut/form_plan.hpp"

#include <algorithm>
#include <cmath>

#include "seatwright/base/fault.hpp"
#include "seatwright/cut/fewest_pilots.hpp"

namespace seatwright::cut {

namespace {

const job::GuideBore* bore_read(const job::Job& job, const std::string& head, const std::string& valve) {
    const job::GuideBore* read = nullptr;
    for (const job::GuideBore& reading : job.readings.guides)
        if (reading.valve == valve && reading.head == head) read = &reading;
    return read;
}

class Former {
  public:
    Former(const Known& known, const SeatPlan& plan, FormInSetup form, const job::Selection& selection,
           Gate& gate)
        : known_(known),
          job_(known.job),
          plan_(plan),
          form_(std::move(form)),
          selection_(selection),
          gate_(gate) {}

    std::optional<ReadyForm> run() {
        if (!take()) return std::nullopt;
        std::vector<ReadySeat> seats = asked();
        if (job_.cut.pilot == job::PilotUse::none)
            without_pilots(seats);
        else
            with_pilots(seats);
        if (seats.empty()) return std::nullopt;
        if (seats.size() < form_.planned.size()) {
            // Which seat is touched, and how well Z is known, are matters of those that are left.
            form_.planned.clear();
            for (const ReadySeat& seat : seats) form_.planned.push_back(seat.shaped);
            if (!take()) return std::nullopt;
        }
        return in_order(std::move(seats));
    }

  private:
    const std::string& id(std::size_t valve) const { return job_.head.valves.at(valve).id; }
    const job::Cutter& cutter() const { return job_.cutters.at(form_.tool.cutter); }

    void hold(std::size_t valve, HeldCode code, std::string reason, std::string frees) {
        gate_.hold({known_.shape.head, known_.hold.setups[form_.setup].id, id(valve), code, std::move(reason),
                    std::move(frees)});
    }

    bool take() {
        auto asked = zero_asked(known_, form_, selection_);
        if (!asked) return refuse(asked.error());
        task_ = std::move(asked->task);
        restart_ = std::move(asked->restart);
        auto taken = shape::take_zero(task_);
        if (!taken) return refuse(taken.error());
        zero_ = std::move(*taken);
        return true;
    }

    // Without Z zero none of this cutter's seats can be cut; another cutter's can.
    bool refuse(const HeldBack& why) {
        for (const std::size_t s : form_.planned)
            hold(known_.shape.seats[s].valve, why.code, why.reason, why.frees);
        return false;
    }

    std::optional<ReadyForm> in_order(std::vector<ReadySeat> seats) {
        std::vector<FormSeat> form;
        for (const ReadySeat& seat : seats) {
            const shape::Seat& shaped = known_.shape.seats[seat.shaped];
            form.push_back({.valve = seat.valve,
                            .stop = seat.stop,
                            .depth = seat.depth,
                            .u = seat.u,
                            .most_depth = shaped.depth_high,
                            .least_depth = least_depth(shaped),
                            .stem_height = shaped.stem_height_after,
                            .begun = selection_.from == id(seat.valve),
                            .depth_known = seat.depth_known});
        }
        FirstInForm first =
            first_in_form(job_, known_.shape.head, known_.hold.setups[form_.setup].id, zero_, form);
        if (first.held) {
            refuse(*first.held);
            return std::nullopt;
        }
        const std::size_t first_valve = seats[first.place].valve;
        const auto touched = zero_.on == shape::ZeroOn::old_seat ? zero_.valve : std::nullopt;
        const auto rank = [&](const ReadySeat& seat) {
            return seat.valve == first_valve ? 0 : seat.valve == touched ? 2 : 1;
        };
        std::stable_sort(seats.begin(), seats.end(),
                         [&](const ReadySeat& a, const ReadySeat& b) { return rank(a) < rank(b); });
        first.place = 0;
        return ReadyForm{std::move(form_), std::move(zero_), std::move(seats), std::move(first),
                         std::move(restart_)};
    }

    // The margin is there to be used up: what must be cut away is the cleanup without it.
    std::optional<double> least_depth(const shape::Seat& shaped) const {
        if (job_.depth.to == job::DepthTo::height || !shaped.cleanup) return std::nullopt;
        return *shaped.cleanup - job_.depth.cleanup_margin;
    }

    double u_of(std::size_t valve) const {
        for (std::size_t i = 0; i < task_.seats.size() && i < zero_.u.size(); ++i)
            if (task_.seats[i].valve == valve) return zero_.u[i];
        return zero_.u_worst;
    }

    std::vector<ReadySeat> asked() const {
        std::vector<ReadySeat> out;
        for (const std::size_t s : form_.planned) {
            const shape::Seat& shaped = known_.shape.seats[s];
            const SeatHeights heights = heights_of(known_, shaped);
            require(heights.stop.has_value(), "a seat with a depth has a stop");
            ReadySeat seat;
            seat.shaped = s;
            seat.seat = static_cast<std::size_t>(std::find(plan_.shaped.begin(), plan_.shaped.end(), s) -
                                                 plan_.shaped.begin());
            seat.valve = shaped.valve;
            seat.map_z = held_at(known_.hold, shaped.valve).held->map.z();
            seat.stop = *heights.stop;
            seat.depth_known = shaped.depth.has_value();
            // An old seat that nobody read stands no higher than drawn.
            seat.depth = shaped.depth.value_or(std::max(0.0, -seat.stop));
            seat.u = u_of(shaped.valve);
            // What stands proud of the form is metal too, and so is what the cutter rests on.
            const double metal = std::max(0.0, seat.depth) + std::max(0.0, shaped.proud);
            const double above = std::max(0.0, heights.rest.value_or(0) - std::max(0.0, shaped.proud));
            seat.approach = approach_height(job_, metal, above, seat.u);
            out.push_back(seat);
        }
        return out;
    }

    GuideAtStop guide_of(const ReadySeat& seat) const {
        const job::Valve& valve = job_.head.valves.at(seat.valve);
        GuideAtStop guide;
        guide.valve = seat.valve;
        guide.id = valve.id;
        guide.kind = valve.kind;
        guide.form = job_.guide[valve.kind] ? &*job_.guide[valve.kind] : &no_guide_;
        guide.read = bore_read(job_, known_.shape.head, valve.id);
        guide.stop = seat.stop;
        guide.depth = std::max(0.0, seat.depth);
        guide.rest = heights_of(known_, known_.shape.seats[seat.shaped]).rest.value_or(0);
        guide.approach = std::max(job_.cut.approach.value_or(least_approach), seat.u + approach_margin);
        if (const auto& form = job_.seat[valve.kind]) {
            guide.seat_angle = form->angle;
            guide.runout_max = form->runout_max;
        }
        return guide;
    }

    void with_pilots(std::vector<ReadySeat>& seats) {
        std::vector<GuideAtStop> guides;
        guides.reserve(seats.size());
        for (const ReadySeat& seat : seats) guides.push_back(guide_of(seat));
        const PilotsOfProgram chosen = fewest_pilots(job_.cut, job_.pilots, cutter(), guides, job_.units);
        std::vector<ReadySeat> left;
        for (std::size_t i = 0; i < seats.size(); ++i) {
            const GuidePilot& of = chosen.guides[i];
            if (!of.pilot || !of.stand) {
                if (of.misfit)
                    hold(seats[i].valve, of.misfit->code, id(seats[i].valve) + ": " + of.misfit->reason,
                         of.misfit->frees);
                continue;
            }
            seats[i].pilot = of.pilot;
            seats[i].stand = of.stand;
            seats[i].use = of.stand->use;
            seats[i].below = below_of(job_.pilots[*of.pilot], *of.stand);
            left.push_back(std::move(seats[i]));
        }
        // One pilot after the other, in the order they first come up.
        std::vector<std::size_t> order;
        for (const ReadySeat& seat : left)
            if (std::find(order.begin(), order.end(), *seat.pilot) == order.end())
                order.push_back(*seat.pilot);
        const auto rank = [&](const ReadySeat& seat) {
            return std::find(order.begin(), order.end(), *seat.pilot) - order.begin();
        };
        std::stable_sort(left.begin(), left.end(),
                         [&](const ReadySeat& a, const ReadySeat& b) { return rank(a) < rank(b); });
        seats = std::move(left);
    }

    ToolBelow below_of(const job::Pilot& pilot, const PilotStand& stand) const {
        if (stand.use == job::PilotUse::planted)
            return {*cutter().lowest, stand.top_most.value_or(0) + *cutter().lowest + over_mouth_gap};
        return {*pilot.reach - *cutter().drop, stand.clear_above_stop.value_or(0)};
    }

    void without_pilots(std::vector<ReadySeat>& seats) {
        std::vector<ReadySeat> left;
        for (ReadySeat& seat : seats) {
            const job::Valve& valve = job_.head.valves.at(seat.valve);
            const auto& form = job_.seat[valve.kind];
            const HeldAt at = held_at(known_.hold, seat.valve);
            SpindleAxis axis;
            axis.place_sd = place_sd(seat.valve);
            axis.plumb_error = at.held->plumb_error;
            axis.gauge_diameter = known_.shape.seats[seat.shaped].section.gauge;
            axis.kind = valve.kind;
            if (form) axis.seat_angle = form->angle, axis.runout_max = form->runout_max;
            std::optional<Misfit> misfit = without_pilot(axis, job_.units);
            if (!misfit && !cutter().lowest)
                misfit = Misfit{HeldCode::missing,
                                "how far the cutter's lowest edge stands below its gauge plane is not known",
                                "cutter.lowest"};
            if (misfit) {
                hold(seat.valve, misfit->code, id(seat.valve) + ": " + misfit->reason, misfit->frees);
                continue;
            }
            seat.use = job::PilotUse::none;
            seat.below = {*cutter().lowest, std::max(0.0, seat.depth) + *cutter().lowest + over_mouth_gap};
            left.push_back(std::move(seat));
        }
        seats = std::move(left);
    }

    // Largest standard deviation, in any direction, of where the guide is; the casting's where nothing says.
    double place_sd(std::size_t valve) const {
        const hold::Setup& setup = known_.hold.setups[form_.setup];
        if (const auto* found = found_setup(known_.find, known_.shape.head, setup.id))
            for (const find::FoundGuide& guide : found->guides)
                if (guide.valve == valve) {
                    const Mat2& c = guide.covariance;
                    const double half = 0.5 * (c(0, 0) + c(1, 1));
                    return std::sqrt(half + std::hypot(0.5 * (c(0, 0) - c(1, 1)), c(0, 1)));
                }
        return job_.find.casting_sd;
    }

    const Known& known_;
    const job::Job& job_;
    const SeatPlan& plan_;
    FormInSetup form_;
    const job::Selection& selection_;
    Gate& gate_;
    job::GuideForm no_guide_;
    shape::ZeroTask task_;
    shape::Zero zero_;
    std::string restart_;
};

}  // namespace

std::optional<ReadyForm> ready_form(const Known& known, const SeatPlan& plan, FormInSetup form,
                                    const job::Selection& selection, Gate& gate) {
    return Former(known, plan, std::move(form), selection, gate).run();
}

}  // namespace seatwright::cut
