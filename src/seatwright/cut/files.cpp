#include "seatwright/cut/files.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/cut/planting.hpp"
#include "seatwright/cut/program_words.hpp"

namespace seatwright::cut {

namespace {

class Planner {
  public:
    Planner(const Known& known, const SeatPlan& plan, const Sequence& sequence,
            const job::Selection& selection, Gate& gate)
        : known_(known),
          job_(known.job),
          plan_(plan),
          sequence_(sequence),
          selection_(selection),
          gate_(gate) {}

    PlannedFiles run() {
        ready();
        for (std::size_t s = 0; s < known_.hold.setups.size(); ++s) {
            std::vector<const ReadyForm*> forms;
            for (const ReadyForm& form : out_.forms)
                if (form.form.setup == s) forms.push_back(&form);
            if (forms.empty()) continue;
            if (job_.machine.zero == job::ZeroKept::offsets) {
                one_file(s, forms);
            } else {
                for (const ReadyForm* form : forms) of_cutter(s, *form);
            }
        }
        return std::move(out_);
    }

  private:
    const std::string& id(std::size_t valve) const { return job_.head.valves.at(valve).id; }
    bool draft() const { return selection_.writes == job::Writes::draft; }

    bool asked_for(std::size_t valve) const {
        if (!selection_.only.empty())
            return std::find(selection_.only.begin(), selection_.only.end(), id(valve)) !=
                   selection_.only.end();
        return true;
    }

    void ready() {
        std::vector<FormInSetup> forms;
        // The blade broke at this seat: it and those after it of its own cutter and setup, and what follows.
        bool reached = !selection_.from;
        for (const Sequenced& at : sequence_.stops) {
            const std::size_t s = plan_.shaped[at.seat];
            const std::size_t valve = known_.shape.seats[s].valve;
            reached = reached || id(valve) == *selection_.from;
            const Tool& tool = sequence_.tools[at.tool];
            auto form = std::find_if(forms.begin(), forms.end(), [&](const FormInSetup& f) {
                return f.setup == at.setup && f.tool.number == tool.number;
            });
            if (form == forms.end()) form = forms.insert(forms.end(), {at.setup, tool, {}, {}});
            form->all.push_back(s);
            if (reached && asked_for(valve) && (draft() || !gate_.holds(valve))) form->planned.push_back(s);
        }
        for (FormInSetup& form : forms) {
            std::sort(form.all.begin(), form.all.end());
            if (form.planned.empty()) continue;
            if (auto made = ready_form(known_, plan_, std::move(form), selection_, gate_))
                out_.forms.push_back(std::move(*made));
        }
    }

    Vec2 place_of(std::size_t setup, std::size_t valve) const {
        const auto* found = found_setup(known_.find, known_.shape.head, known_.hold.setups[setup].id);
        if (found != nullptr && any_touched(*found))
            for (const find::FoundGuide& guide : found->guides)
                if (guide.valve == valve) return guide.programmed;
        return held_at(known_.hold, valve).held->readout;
    }

    Stop stop_of(const ReadyForm& form, const ReadySeat& seat, double trim) const {
        const SeatCut& cut = plan_.seats[seat.seat];
        Stop stop;
        stop.valve = seat.valve;
        stop.id = id(seat.valve);
        stop.at = place_of(form.form.setup, seat.valve);
        stop.tool = form.form.tool;
        stop.pilot = seat.pilot;
        stop.z = shape::stop_z(seat.map_z, seat.stop, form.zero.zeta) + trim;
        stop.depth = seat.depth;
        stop.rpm = cut.rpm;
        if (seat.use == job::PilotUse::live) stop.entry_rpm = job_.cut.entry_rpm.value_or(0);
        stop.feed = cut.rpm * cut.feed / 60;
        stop.finish_feed = cut.rpm * cut.finish_feed / 60;
        stop.dwell_seconds = cut.dwell_turns * 60 / cut.rpm;
        set_heights(job_, stop, seat.below, seat.approach, seat.depth);
        return stop;
    }

    Route begin(std::size_t setup, job::PilotUse use) const {
        Route route;
        route.setup = setup;
        route.head = known_.shape.head;
        const auto* found = found_setup(known_.find, route.head, known_.hold.setups[setup].id);
        route.from_touches = found != nullptr && any_touched(*found);
        route.pilot = use;
        route.draft = draft();
        route.only = selection_.only;
        route.from = selection_.from;
        route.digest = selection_.digest;
        route.date = newest_date(job_, route.head);
        for (const hold::Held& held : known_.hold.setups[setup].valves)
            if (gate_.holds(held.valve)) route.held_back.push_back(id(held.valve));
        return route;
    }

    // Which of a form's seats go into one file: those of one planting, or of one pilot.
    std::vector<int> turns_of(const ReadyForm& form) const {
        std::vector<int> turns(form.seats.size(), 0);
        const job::Cutter& cutter = job_.cutters.at(form.form.tool.cutter);
        if (form.seats.front().use == job::PilotUse::planted) {
            std::vector<Planted> planted;
            for (const ReadySeat& seat : form.seats) {
                const job::Pilot& pilot = job_.pilots.at(*seat.pilot);
                planted.push_back({held_at(known_.hold, seat.valve).held->map.head<2>(),
                                   seat.map_z + seat.stop, seat.stand->top_most.value_or(0), pilot.diameter,
                                   *seat.pilot, pilot.count});
            }
            return planting_turns(planted, cutter.body.value_or(0), cutter.lowest.value_or(0));
        }
        int turn = 0;
        for (std::size_t i = 1; i < form.seats.size(); ++i) {
            const bool other_pilot = form.seats[i].pilot != form.seats[i - 1].pilot;
            const bool other_use = form.seats[i].use != form.seats[i - 1].use;
            if (other_use || (other_pilot && job_.machine.pilot_change == job::PilotChange::cutter_off))
                ++turn;
            turns[i] = turn;
        }
        return turns;
    }

    // The touched seat last, so that Z0 can be checked on it till then.
    void touched_last(Route& route, const ReadyForm& form, std::size_t begin) const {
        if (!form.zero.valve || form.zero.on != shape::ZeroOn::old_seat) return;
        const auto first = route.stops.begin() + static_cast<std::ptrdiff_t>(begin);
        const auto touched = std::find_if(first, route.stops.end(),
                                          [&](const Stop& stop) { return stop.valve == *form.zero.valve; });
        if (touched == route.stops.end()) return;
        std::rotate(touched, touched + 1, route.stops.end());
        route.touched_last = true;
    }

    void of_cutter(std::size_t setup, const ReadyForm& form) {
        const std::vector<int> turns = turns_of(form);
        const int last = *std::max_element(turns.begin(), turns.end());
        for (int turn = 0; turn <= last; ++turn) {
            Route route = begin(setup, form.seats.front().use);
            std::vector<const ReadySeat*> seats;
            for (std::size_t i = 0; i < form.seats.size(); ++i)
                if (turns[i] == turn) seats.push_back(&form.seats[i]);
            if (seats.empty()) continue;
            route.pilot = seats.front()->use;
            add(route, form, seats);
            finish(std::move(route), {&form}, turn);
        }
    }

    void one_file(std::size_t setup, const std::vector<const ReadyForm*>& forms) {
        Route route = begin(setup, forms.front()->seats.front().use);
        for (const ReadyForm* form : forms) {
            std::vector<const ReadySeat*> seats;
            for (const ReadySeat& seat : form->seats) seats.push_back(&seat);
            add(route, *form, seats);
        }
        finish(std::move(route), forms, 0);
    }

    void add(Route& route, const ReadyForm& form, const std::vector<const ReadySeat*>& seats) const {
        route.zeros.push_back({form.form.tool.number, form.zero, 0});
        const std::size_t begin = route.stops.size();
        for (const ReadySeat* seat : seats) route.stops.push_back(stop_of(form, *seat, 0));
        touched_last(route, form, begin);
    }

    void finish(Route route, const std::vector<const ReadyForm*>& forms, int turn) {
        const hold::Setup& setup = known_.hold.setups[route.setup];
        double tip = 0, zeta = forms.front()->zero.zeta, over_planted = 0;
        for (const ReadyForm* form : forms) {
            zeta = std::min(zeta, form->zero.zeta);
            for (const ReadySeat& seat : form->seats) {
                tip = std::max(tip, seat.below.tip);
                if (seat.use == job::PilotUse::planted)
                    over_planted = std::max(over_planted,
                                            seat.map_z + seat.stop + seat.below.over_mouth - form->zero.zeta);
            }
        }
        route.clear = std::max(clear_height(job_, setup, route.stops, tip, zeta), std::ceil(over_planted));
        const ReadyForm& first = *forms.front();
        route.look = look_words(route, setup, first, first.seats.front().below.tip);
        std::string name = file_name(job_, route, setup.id, turn);
        out_.files.push_back({std::move(route), std::move(name)});
    }

    // How high the tool stands over the deck where Z0 was taken, once it is at the clear height.
    std::string look_words(const Route& route, const hold::Setup& setup, const ReadyForm& form,
                           double tip) const {
        const job::Valve& datum = job_.head.valves.at(setup.datum);
        Vec3 deck;
        std::string where;
        if (form.zero.valve) {
            const job::Valve& valve = job_.head.valves.at(*form.zero.valve);
            const Vec3 axis = valve.axis();
            const double up = -(valve.seat.z() + job_.depth.deck_cut) / axis.z();
            deck = setup.rotation() * (valve.seat + up * axis - datum.seat);
            where = "at " + valve.id;
        } else {
            const Vec2 at = job_.depth.deck_at.value_or(Vec2(datum.seat.head<2>()));
            deck = shape::deck_place(setup.rotation(), datum.seat, at, job_.depth.deck_cut);
            where = "where Z0 was taken";
        }
        const double gap = route.clear - tip - (deck.z() - form.zero.zeta);
        if (!(gap > 0)) return {};
        const bool pilot = route.pilot == job::PilotUse::carried || route.pilot == job::PilotUse::live;
        return fmt::format("{} stands {} over the deck {}", pilot ? "the tip" : "the cutter's lowest edge",
                           said(job_, std::round(10 * gap) / 10), where);
    }

    const Known& known_;
    const job::Job& job_;
    const SeatPlan& plan_;
    const Sequence& sequence_;
    const job::Selection& selection_;
    Gate& gate_;
    PlannedFiles out_;
};

}  // namespace

std::string newest_date(const job::Job& job, const std::string& head) {
    std::string newest;
    for (const job::SeatAfter& reading : job.readings.proofs)
        if (reading.head == head) newest = std::max(newest, reading.date);
    return newest;
}

PlannedFiles plan_files(const Known& known, const SeatPlan& plan, const Sequence& sequence,
                        const job::Selection& selection, Gate& gate) {
    return Planner(known, plan, sequence, selection, gate).run();
}

}  // namespace seatwright::cut
