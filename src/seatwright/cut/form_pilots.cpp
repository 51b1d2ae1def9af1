#include "seatwright/cut/form_pilots.hpp"

#include <algorithm>
#include <cmath>

#include "seatwright/cut/fewest_pilots.hpp"
#include "seatwright/find/pilots.hpp"
#include "seatwright/job/of_head.hpp"
#include "seatwright/words/english_cut.hpp"

namespace seatwright::cut {

namespace {

const job::GuideBore* bore_read(const job::Job& job, const std::string& head, const std::string& valve) {
    const job::GuideBore* read = nullptr;
    for (const job::GuideBore& reading : job::of_head(job.readings.guides, head))
        if (reading.valve == valve) read = &reading;
    return read;
}

class Leader {
  public:
    Leader(const Known& known, const FormInSetup& form) : known_(known), job_(known.job), form_(form) {}

    Led with_pilots(const std::vector<ReadySeat>& seats) const {
        std::vector<GuideAtStop> guides;
        guides.reserve(seats.size());
        for (const ReadySeat& seat : seats) guides.push_back(of(seat));
        const PilotsOfProgram chosen = fewest_pilots(job_.cut, allowed(), cutter(), guides);
        Led led;
        for (std::size_t i = 0; i < seats.size(); ++i) {
            const GuidePilot& of = chosen.guides[i];
            if (!of.pilot || !of.stand) {
                if (of.misfit) led.refused.emplace_back(seats[i].valve, *of.misfit);
                continue;
            }
            ReadySeat seat = seats[i];
            seat.pilot = form_.pilot ? *form_.pilot : *of.pilot;
            seat.stand = of.stand;
            seat.use = of.stand->use;
            seat.below = below(*seat.pilot, *of.stand);
            led.seats.push_back(std::move(seat));
        }
        return led;
    }

    Led without_pilots(const std::vector<ReadySeat>& seats) const {
        Led led;
        for (const ReadySeat& asked : seats) {
            const job::Valve& valve = job_.head.valves.at(asked.valve);
            const auto& form = job_.seat[valve.kind];
            SpindleAxis axis;
            axis.place_sd = place_sd(asked.valve);
            axis.plumb_error = held_at(known_.hold, asked.valve).held->plumb_error;
            axis.gauge_diameter = known_.shape.seats[asked.shaped].section.gauge;
            axis.kind = valve.kind;
            if (form) axis.seat_angle = form->angle, axis.runout_max = form->runout_max;
            std::optional<Misfit> misfit = without_pilot(axis);
            if (!misfit && !cutter().lowest)
                misfit = Misfit{HeldCode::missing, sentence<"lowest-not-known">(), the_key("cutter.lowest")};
            if (misfit) {
                led.refused.emplace_back(asked.valve, *misfit);
                continue;
            }
            ReadySeat seat = asked;
            seat.use = job::PilotUse::none;
            seat.below = {*cutter().lowest, std::max(0.0, seat.depth) + *cutter().lowest + over_mouth_gap};
            led.seats.push_back(std::move(seat));
        }
        return led;
    }

    // The guide of a seat with the gauge plane at that height of it, the cutter resting there.
    std::optional<PilotStand> touching(std::size_t shaped, double height, std::size_t pilot) const {
        GuideAtStop guide = guide_of(shaped);
        guide.stop = height;
        guide.approach = 0;
        const Stand stand =
            stand_of(use_of(job_.cut, job_.pilots[pilot]), job_.pilots[pilot], cutter(), guide);
        return stand ? std::optional(*stand) : std::nullopt;
    }

    const job::Cutter& cutter() const { return job_.cutters.at(form_.tool.cutter); }

  private:
    std::vector<job::Pilot> allowed() const {
        return form_.pilot ? std::vector<job::Pilot>{job_.pilots.at(*form_.pilot)} : job_.pilots;
    }

    GuideAtStop guide_of(std::size_t shaped) const {
        const job::Valve& valve = job_.head.valves.at(known_.shape.seats[shaped].valve);
        GuideAtStop guide;
        guide.valve = known_.shape.seats[shaped].valve;
        guide.id = valve.id;
        guide.kind = valve.kind;
        guide.form = job_.guide[valve.kind] ? &*job_.guide[valve.kind] : &no_guide_;
        guide.read = bore_read(job_, known_.shape.head, valve.id);
        if (const auto& form = job_.seat[valve.kind]) {
            guide.seat_angle = form->angle;
            guide.runout_max = form->runout_max;
        }
        return guide;
    }

    GuideAtStop of(const ReadySeat& seat) const {
        GuideAtStop guide = guide_of(seat.shaped);
        guide.stop = seat.stop;
        guide.depth = std::max(0.0, seat.depth);
        guide.rest = heights_of(known_, known_.shape.seats[seat.shaped]).held_by;
        guide.approach = std::max(job_.cut.approach.value_or(least_approach), seat.u + approach_margin);
        return guide;
    }

    ToolBelow below(std::size_t pilot, const PilotStand& stand) const {
        const double tip = tip_below(job_, stand.use, pilot, form_.tool.cutter);
        if (stand.use == job::PilotUse::planted)
            return {tip, stand.top_most.value_or(0) + *cutter().lowest + over_mouth_gap};
        return {tip, stand.clear_above_stop.value_or(0)};
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
    const FormInSetup& form_;
    job::GuideForm no_guide_;
};

// Those of the seats in the order they come up, then the shelf's, the larger first.
std::vector<std::size_t> in_turn(const job::Job& job, const FormInSetup& form,
                                 const std::vector<ReadySeat>& seats) {
    std::vector<std::size_t> turn;
    if (form.pilot) return {*form.pilot};
    for (const ReadySeat& seat : seats)
        if (seat.pilot && std::find(turn.begin(), turn.end(), *seat.pilot) == turn.end())
            turn.push_back(*seat.pilot);
    const auto used = static_cast<std::ptrdiff_t>(turn.size());
    for (std::size_t p = 0; p < job.pilots.size(); ++p)
        if (std::find(turn.begin(), turn.end(), p) == turn.end()) turn.push_back(p);
    std::stable_sort(turn.begin() + used, turn.end(), [&](std::size_t a, std::size_t b) {
        return job.pilots[a].diameter > job.pilots[b].diameter;
    });
    return turn;
}

}  // namespace

Led lead(const Known& known, const FormInSetup& form, const std::vector<ReadySeat>& seats) {
    const Leader leader(known, form);
    return known.job.cut.pilot == job::PilotUse::none ? leader.without_pilots(seats)
                                                      : leader.with_pilots(seats);
}

ZeroPilot zero_pilot(const Known& known, const FormInSetup& form, const shape::Zero& zero,
                     const std::vector<ReadySeat>& seats) {
    ZeroPilot out;
    const job::Job& job = known.job;
    if (!zero.valve || job.cut.pilot == job::PilotUse::none) return out;
    const auto shaped = std::find_if(known.shape.seats.begin(), known.shape.seats.end(),
                                     [&](const shape::Seat& seat) { return seat.valve == *zero.valve; });
    const double map_z = held_at(known.hold, *zero.valve).held->map.z();
    const auto place = static_cast<std::size_t>(shaped - known.shape.seats.begin());
    const auto planned = std::find_if(seats.begin(), seats.end(),
                                      [&](const ReadySeat& seat) { return seat.valve == *zero.valve; });
    const Leader leader(known, form);
    const auto take = [&](std::size_t pilot, const PilotStand* stand) {
        const job::PilotUse use = use_of(job.cut, job.pilots[pilot]);
        out.pilot = pilot;
        out.tip = tip_below(job, use, pilot, form.tool.cutter);
        if (use == job::PilotUse::planted && stand != nullptr && stand->top_most)
            out.top = zero.zeta + *stand->top_most;
    };
    if (planned != seats.end() && planned->pilot) {
        const auto stand = leader.touching(place, zero.zeta - map_z, *planned->pilot);
        take(*planned->pilot, stand ? &*stand : nullptr);
        return out;
    }
    for (const std::size_t pilot : in_turn(job, form, seats)) {
        const auto stand = leader.touching(place, zero.zeta - map_z, pilot);
        if (!stand) continue;
        take(pilot, &*stand);
        return out;
    }
    // Whoever has but one takes that one where it fits.
    if (form.pilot && may_stand(known, place, *form.pilot)) take(*form.pilot, nullptr);
    return out;
}

bool may_stand(const Known& known, std::size_t shaped, std::size_t pilot) {
    const job::Valve& valve = known.job.head.valves.at(known.shape.seats[shaped].valve);
    const job::Pilot& one = known.job.pilots.at(pilot);
    const auto& guide = known.job.guide[valve.kind];
    if (const job::GuideBore* read = bore_read(known.job, known.shape.head, valve.id))
        return find::fit_pilot(one, *read, guide ? guide->length : std::nullopt).suits;
    // Whether a taper locks there is seen when it is put in.
    if (one.style == job::PilotStyle::tapered || !guide || !guide->bore) return true;
    return one.diameter <= *guide->bore + find::size_tolerance;
}

double tip_below(const job::Job& job, job::PilotUse use, const std::optional<std::size_t>& pilot,
                 std::size_t cutter) {
    const job::Cutter& of = job.cutters.at(cutter);
    if (pilot && (use == job::PilotUse::carried || use == job::PilotUse::live))
        return job.pilots.at(*pilot).reach.value_or(0) - of.drop.value_or(0);
    return of.lowest.value_or(0);
}

}  // namespace seatwright::cut
