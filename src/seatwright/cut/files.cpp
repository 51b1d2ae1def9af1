#include "seatwright/cut/files.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/base/length_words.hpp"
#include "seatwright/cut/planting.hpp"
#include "seatwright/cut/program.hpp"
#include "seatwright/cut/program_words.hpp"
#include "seatwright/cut/restart.hpp"

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
        std::vector<FormInSetup> forms = forms_of();
        if (selection_.from) from_broken(forms);
        out_.program_z.resize(plan_.seats.size());
        for (FormInSetup& form : forms) {
            const FormInSetup whole = form;
            std::erase_if(form.planned, [&](std::size_t s) {
                const std::size_t valve = known_.shape.seats[s].valve;
                return !asked_for(valve) || (!draft() && gate_.holds(valve)) ||
                       done_already(known_, s, selection_) || counts_as_cut(whole, s);
            });
            auto made = form.planned.empty() ? std::nullopt
                                             : ready_form(known_, plan_, std::move(form), selection_, gate_);
            stops_of(whole, made);
            if (!made) continue;
            tell(*made);
            out_.forms.push_back(std::move(*made));
        }
    }

    // Measured after cutting, where others of its form are not: it counts as cut until it is asked for by
    // name. A form measured as a whole keeps its files, for the papers.
    bool counts_as_cut(const FormInSetup& whole, std::size_t s) const {
        return selection_.whole() && measured_after(known_, s) &&
               std::any_of(whole.planned.begin(), whole.planned.end(),
                           [&](std::size_t other) { return !measured_after(known_, other); });
    }

    // Z of all its seats that do not count as cut, as if those held back were written too.
    void stops_of(const FormInSetup& form, const std::optional<ReadyForm>& made) {
        std::optional<double> zeta, shift;
        if (made) {
            zeta = made->zero.zeta;
            shift = shift_of(*made);
        } else if (const auto asked = zero_asked(known_, form, selection_)) {
            if (const auto zero = shape::take_zero(asked->task)) zeta = zero->zeta;
        }
        if (!zeta) return;
        for (std::size_t i = 0; i < plan_.seats.size(); ++i) {
            if (std::find(form.all.begin(), form.all.end(), plan_.shaped[i]) == form.all.end()) continue;
            if (counts_as_cut(form, plan_.shaped[i])) continue;
            const shape::Seat& seat = known_.shape.seats[plan_.shaped[i]];
            if (const auto stop = heights_of(known_, seat).stop)
                out_.program_z[i] =
                    0.0 +  // no zero with a sign
                    job_.machine.z_sign *
                        (shape::stop_z(held_at(known_.hold, seat.valve).held->map.z(), *stop, *zeta) +
                         shift.value_or(0));
        }
    }

    std::vector<FormInSetup> forms_of() const {
        std::vector<FormInSetup> forms;
        for (const Sequenced& at : sequence_.stops) {
            const Tool& tool = sequence_.tools[at.tool];
            auto form = std::find_if(forms.begin(), forms.end(), [&](const FormInSetup& f) {
                return f.setup == at.setup && f.tool.number == tool.number;
            });
            if (form == forms.end()) form = forms.insert(forms.end(), {at.setup, tool, {}, {}});
            form->all.push_back(plan_.shaped[at.seat]);
            form->planned.push_back(plan_.shaped[at.seat]);
        }
        return forms;
    }

    // A blade broke: what its file cut before that seat is not cut again, nor what other cutters cut before.
    void from_broken(std::vector<FormInSetup>& forms) const {
        bool reached = false;
        for (FormInSetup& form : forms) {
            const auto broke = [&](std::size_t s) {
                return id(known_.shape.seats[s].valve) == *selection_.from;
            };
            const bool here = std::any_of(form.all.begin(), form.all.end(), broke);
            if (!reached && !here) form.planned.clear();
            reached = reached || here;
            if (!here) continue;
            std::vector<std::string> ids;
            for (const std::size_t s : form.all) ids.push_back(id(known_.shape.seats[s].valve));
            const FirstsOfOld firsts = firsts_of_old(job_, known_.shape.head, ids, *selection_.from);
            std::vector<std::size_t> order = order_with(form, firsts.old);
            auto at = std::find_if(order.begin(), order.end(), broke);
            const bool new_blades = std::any_of(at, order.end(), [&](std::size_t s) {
                return id(known_.shape.seats[s].valve) == firsts.perhaps_new;
            });
            if (firsts.perhaps_new && !new_blades) {
                order = order_with(form, job_.readings.firsts);
                at = std::find_if(order.begin(), order.end(), broke);
            }
            form.planned.assign(at, order.end());
            form.all = std::move(order);
        }
    }

    // The order in which the files of the whole head cut a form's seats, with these readings of first seats.
    std::vector<std::size_t> order_with(const FormInSetup& form, std::vector<job::FirstSeat> firsts) const {
        job::Job job = job_;
        job.readings.firsts = std::move(firsts);
        const Known known{job, known_.hold, known_.find, known_.shape};
        Gate unheard = gate_;
        FormInSetup whole = form;
        std::erase_if(whole.planned, [&](std::size_t s) { return gate_.holds(known_.shape.seats[s].valve); });
        std::vector<std::size_t> order;
        if (!whole.planned.empty())
            if (const auto made = ready_form(known, plan_, whole, {}, unheard))
                for (const ReadySeat& seat : made->seats) order.push_back(seat.shaped);
        for (const std::size_t s : form.all)
            if (std::find(order.begin(), order.end(), s) == order.end()) order.push_back(s);
        return order;
    }

    void tell(const ReadyForm& form) {
        const auto say = [&](const char* code, const std::string& valve, std::string text) {
            out_.warnings.push_back({"cut", code, valve, std::move(text), Weight::note});
        };
        const std::string& first = id(form.seats.front().valve);
        if (form.first.other) say("first-other", first, *form.first.other);
        if (form.first.stop_why) say("first-stop", first, *form.first.stop_why);
        if (!form.restart.empty()) say("restart", first, form.restart);
        if (form.first.trim) say("trim", first, form.first.trim->words);
        if (form.first.replan)
            say("plan-anew", first,
                fmt::format("with {} as measured, limits or spread of the others no longer hold: plan again "
                            "and compare",
                            first));
        if (form.first.stops && !form.first.measured && job_.machine.trim == job::TrimAt::file)
            say("first-seat", first,
                fmt::format(
                    "seat {} of cutter {} is cut first{}: cut it, type its depth, take the second file",
                    first, form.form.tool.number,
                    form.first.short_by > 0
                        ? fmt::format(", {} short", length_words(form.first.short_by, job_.units))
                        : std::string()));
    }

    Vec2 place_of(std::size_t setup, std::size_t valve) const {
        const auto* found = found_setup(known_.find, known_.shape.head, known_.hold.setups[setup].id);
        if (found != nullptr && any_touched(*found))
            for (const find::FoundGuide& guide : found->guides)
                if (guide.valve == valve) return guide.programmed;
        return held_at(known_.hold, valve).held->readout;
    }

    // `less`: how much above its plan it ends.
    Stop stop_of(const ReadyForm& form, const ReadySeat& seat, double less = 0) const {
        const SeatCut& cut = plan_.seats[seat.seat];
        Stop stop;
        stop.valve = seat.valve;
        stop.id = id(seat.valve);
        stop.at = place_of(form.form.setup, seat.valve);
        stop.tool = form.form.tool;
        stop.pilot = seat.pilot;
        stop.z = shape::stop_z(seat.map_z, seat.stop, form.zero.zeta) + shift_of(form) + less;
        stop.depth = seat.depth - less;
        stop.short_cut = less > 0;
        stop.rpm = cut.rpm;
        if (seat.use == job::PilotUse::live) stop.entry_rpm = job_.cut.entry_rpm.value_or(0);
        stop.feed = cut.rpm * cut.feed / 60;
        stop.finish_feed = cut.rpm * cut.finish_feed / 60;
        stop.dwell_seconds = cut.dwell_turns * 60 / cut.rpm;
        set_heights(job_, stop, seat.below, seat.approach, stop.depth);
        return stop;
    }

    static double shift_of(const ReadyForm& form) { return form.first.trim ? form.first.trim->shift : 0; }

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

    // The turn of the first seat first, that of the touched seat last: Z0 can be taken on it till then.
    std::vector<int> in_file_order(const ReadyForm& form, const std::vector<int>& turns) const {
        const int last = static_cast<int>(turns.size());  // after every other
        const shape::Zero& zero = form.zero;
        std::vector<int> rank(turns.size());
        for (std::size_t i = 0; i < turns.size(); ++i) rank[i] = turns[i] == turns.front() ? -1 : turns[i];
        const bool touched = zero.on == shape::ZeroOn::old_seat && zero.valve == form.seats.back().valve;
        const bool several = std::any_of(turns.begin(), turns.end(), [&](int t) { return t != turns[0]; });
        if (touched && several && form.seats.size() > 1) {
            const int its = turns.back();
            if (its == turns.front())
                rank.back() = last;  // a planting of its own
            else
                for (std::size_t i = 0; i < turns.size(); ++i)
                    if (turns[i] == its) rank[i] = last;
        }
        return rank_places(rank);
    }

    // 0, 1, … in the order of the ranks.
    static std::vector<int> rank_places(const std::vector<int>& rank) {
        std::vector<int> ranks = rank;
        std::sort(ranks.begin(), ranks.end());
        ranks.erase(std::unique(ranks.begin(), ranks.end()), ranks.end());
        std::vector<int> places;
        places.reserve(rank.size());
        for (const int r : rank)
            places.push_back(
                static_cast<int>(std::lower_bound(ranks.begin(), ranks.end(), r) - ranks.begin()));
        return places;
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
            return in_file_order(form,
                                 planting_turns(planted, cutter.body.value_or(0), cutter.lowest.value_or(0)));
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

    // What one cutter does in one file.
    struct Portion {
        const ReadyForm* form = nullptr;
        std::vector<const ReadySeat*> seats;
        bool has_first() const { return seats.front() == &form->seats.front(); }
        bool waits() const { return form->first.stops && !form->first.measured; }
    };

    void of_cutter(std::size_t setup, const ReadyForm& form) {
        const std::vector<int> turns = turns_of(form);
        const int last = *std::max_element(turns.begin(), turns.end());
        for (int turn = 0; turn <= last; ++turn) {
            Portion portion{&form, {}};
            for (std::size_t i = 0; i < form.seats.size(); ++i)
                if (turns[i] == turn) portion.seats.push_back(&form.seats[i]);
            if (!portion.seats.empty()) write(setup, {std::move(portion)});
        }
    }

    void one_file(std::size_t setup, const std::vector<const ReadyForm*>& forms) {
        std::vector<Portion> portions;
        for (const ReadyForm* form : forms) {
            Portion portion{form, {}};
            for (const ReadySeat& seat : form->seats) portion.seats.push_back(&seat);
            portions.push_back(std::move(portion));
        }
        write(setup, portions);
    }

    void write(std::size_t setup, const std::vector<Portion>& portions) {
        const auto waits = [](const Portion& portion) { return portion.waits(); };
        const bool stops = std::any_of(portions.begin(), portions.end(),
                                       [](const Portion& portion) { return portion.form->first.stops; });
        const bool wait = std::any_of(portions.begin(), portions.end(), waits);
        const Route empty = begin(setup, portions.front().seats.front()->use);
        Route whole = empty;
        for (const Portion& portion : portions) all_of(whole, portion);
        finish(whole, portions);
        out_.routes.push_back(whole);
        if (!stops || draft()) return hand_out(std::move(whole));
        if (job_.machine.trim == job::TrimAt::control) {
            Route route = empty;
            for (const Portion& portion : portions) short_first(route, portion);
            if (!route.stops.empty()) route.measure_after = route.stops.size() - 1;
            for (const Portion& portion : portions) after_first(route, portion);
            clear_as(route, whole);
            return hand_out(std::move(route));
        }
        Route route = empty;
        route.part = wait ? FilePart::first : FilePart::rest;
        for (const Portion& portion : portions) {
            if (!wait)
                rest_of(route, portion);
            else if (portion.waits())
                short_first(route, portion);
        }
        if (route.stops.empty()) return;
        if (wait) route.measure_after = route.stops.size() - 1;
        clear_as(route, whole);
        hand_out(std::move(route));
    }

    void after_first(Route& route, const Portion& portion) const {
        zero(route, *portion.form);
        for (const ReadySeat* seat : portion.seats)
            if (seat != &portion.form->seats.front() || portion.form->first.short_by > 0)
                route.stops.push_back(stop_of(*portion.form, *seat));
        touched_last(route, portion);
    }

    void all_of(Route& route, const Portion& portion) const {
        zero(route, *portion.form);
        for (const ReadySeat* seat : portion.seats) route.stops.push_back(stop_of(*portion.form, *seat));
        touched_last(route, portion);
    }

    // A cut too thin to be shortened is measured at its whole depth.
    void short_first(Route& route, const Portion& portion) const {
        if (!portion.has_first()) return;
        zero(route, *portion.form);
        route.stops.push_back(stop_of(*portion.form, *portion.seats.front(), portion.form->first.short_by));
    }

    // The first seat to its depth, unless it went there already, and the others.
    void rest_of(Route& route, const Portion& portion) const {
        const FirstInForm& first = portion.form->first;
        const std::size_t from = route.stops.size();
        bool any = false;
        for (const ReadySeat* seat : portion.seats) {
            const bool is_first = seat == &portion.form->seats.front();
            if (is_first && first.measured && first.measured->depth >= seat->depth - written_tolerance(job_))
                continue;
            if (!any) zero(route, *portion.form);
            any = true;
            route.stops.push_back(stop_of(*portion.form, *seat));
        }
        if (!any) return;
        // Cut short in the first file for want of another; Z0 can be checked on it till it is finished.
        const shape::Zero& taken = portion.form->zero;
        if (taken.on == shape::ZeroOn::old_seat && route.stops[from].valve == taken.valve)
            std::rotate(route.stops.begin() + static_cast<std::ptrdiff_t>(from),
                        route.stops.begin() + static_cast<std::ptrdiff_t>(from) + 1, route.stops.end());
        touched_last(route, portion);
    }

    static void zero(Route& route, const ReadyForm& form) {
        const auto there = std::any_of(route.zeros.begin(), route.zeros.end(), [&](const CutterZero& zero) {
            return zero.cutter == form.form.tool.number;
        });
        if (!there) route.zeros.push_back({form.form.tool.number, form.zero, shift_of(form)});
        if (!form.restart.empty()) route.restart = form.restart;
    }

    static void touched_last(Route& route, const Portion& portion) {
        const shape::Zero& zero = portion.form->zero;
        route.touched_last = route.touched_last || (zero.on == shape::ZeroOn::old_seat && zero.valve &&
                                                    route.stops.back().valve == *zero.valve);
    }

    void hand_out(Route route) {
        const auto turn = static_cast<int>(
            std::count_if(out_.files.begin(), out_.files.end(), [&](const PlannedFile& file) {
                return file.route.setup == route.setup &&
                       file.route.stops.front().tool.number == route.stops.front().tool.number;
            }));
        std::string name = file_name(job_, route, known_.hold.setups[route.setup].id, turn);
        out_.files.push_back({std::move(route), std::move(name)});
    }

    // All files of a cutter have one clear height.
    static void clear_as(Route& route, const Route& whole) {
        route.clear = whole.clear;
        for (const Stop& stop : route.stops) route.clear = std::max(route.clear, std::ceil(stop.over_mouth));
        route.look = whole.look;
    }

    // Clear height, and what is to be seen there.
    void finish(Route& route, const std::vector<Portion>& portions) const {
        const hold::Setup& setup = known_.hold.setups[route.setup];
        const ReadyForm& first = *portions.front().form;
        double tip = 0, zeta = first.zero.zeta, over_planted = 0;
        for (const Portion& portion : portions) {
            zeta = std::min(zeta, portion.form->zero.zeta);
            for (const ReadySeat* seat : portion.seats) {
                tip = std::max(tip, seat->below.tip);
                if (seat->use == job::PilotUse::planted)
                    over_planted = std::max(over_planted, seat->map_z + seat->stop + seat->below.over_mouth -
                                                              portion.form->zero.zeta);
            }
        }
        route.clear = std::max(clear_height(job_, setup, route.stops, tip, zeta), std::ceil(over_planted));
        route.look = look_words(route, setup, first, first.seats.front().below.tip);
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

PlannedFiles plan_files(const Known& known, const SeatPlan& plan, const Sequence& sequence,
                        const job::Selection& selection, Gate& gate) {
    return Planner(known, plan, sequence, selection, gate).run();
}

}  // namespace seatwright::cut
