#include "seatwright/cut/form_plan.hpp"

#include <algorithm>
#include <cmath>

#include "seatwright/base/allow_words.hpp"
#include "seatwright/base/fault.hpp"
#include "seatwright/cut/draft.hpp"
#include "seatwright/find/pilots.hpp"
#include "seatwright/job/allowance.hpp"
#include "seatwright/shape/zero_words.hpp"
#include "seatwright/words/english_cut.hpp"

namespace seatwright::cut {

namespace {

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
        for (;;) {
            if (const auto why = take(); why && !goes_on(*why)) return std::nullopt;
            std::vector<ReadySeat> seats = led();
            if (seats.empty()) return std::nullopt;
            if (seats.size() == form_.planned.size()) return in_order(std::move(seats));
            // Which seat is touched, and how well Z is known, are matters of those that are left.
            form_.planned.clear();
            for (const ReadySeat& seat : seats) form_.planned.push_back(seat.shaped);
        }
    }

    // The planned seats with their pilots, whether or not Z0 can be taken for all of them at once.
    std::vector<ReadySeat> led_at_all() {
        if (take()) {
            task_ = {};
            zero_ = {};
            zero_.u_worst = shape::expansion_factor * shape::u_of_seat_zero({}, {});
        }
        return led();
    }

  private:
    const std::string& id(std::size_t valve) const { return job_.head.valves.at(valve).id; }

    void hold(std::size_t valve, HeldCode code, Sentence reason, Sentence frees, std::string allow = {}) {
        gate_.hold({known_.shape.head, known_.hold.setups[form_.setup].id, id(valve), code, std::move(reason),
                    std::move(frees), std::move(allow)});
    }

    // What is in the way of Z0; nothing: it is taken.
    std::optional<HeldBack> take() {
        auto asked = zero_asked(known_, form_, selection_);
        if (!asked) return asked.error();
        task_ = std::move(asked->task);
        restart_ = std::move(asked->restart);
        auto taken = shape::take_zero(task_);
        if (!taken) return taken.error();
        zero_ = std::move(*taken);
        if (auto why = in_a_worn_guide()) return why;
        return without_its_pilot();
    }

    // Asked for on a seat whose guide is to be repaired: its pilot stands off that seat's axis, or loose.
    std::optional<HeldBack> in_a_worn_guide() const {
        if (zero_.on != shape::ZeroOn::old_seat || !zero_.valve || job_.cut.pilot == job::PilotUse::none)
            return std::nullopt;
        const bool worn = find::pilot_of(job_, known_.find, known_.shape.head, *zero_.valve).repair;
        const std::string& guide = id(*zero_.valve);
        if (!worn || job::allowance_of(job_, "guide " + guide) != nullptr) return std::nullopt;
        return HeldBack{known_.shape.head,
                        known_.hold.setups[form_.setup].id,
                        std::nullopt,
                        HeldCode::guide_repair,
                        sentence<"zero-in-worn-guide">("guide"_is = guide),
                        sentence<"zero-in-worn-guide-frees">("allow"_is = allow_words("guide " + guide)),
                        "guide " + guide};
    }

    // On a block the pilot is out; putting it in then takes the cutter off, and Z0 with it.
    std::optional<HeldBack> without_its_pilot() const {
        if (zero_.on != shape::ZeroOn::block || !form_.pilot) return std::nullopt;
        return HeldBack{
            known_.shape.head,   known_.hold.setups[form_.setup].id, std::nullopt,
            HeldCode::zero_void, sentence<"block-pilot-out">(),      sentence<"block-pilot-out-frees">()};
    }

    // Without Z zero none of this cutter's seats can be cut; another cutter's can. A draft goes on.
    bool goes_on(const HeldBack& why) {
        for (const std::size_t s : form_.planned)
            hold(known_.shape.seats[s].valve, why.code, why.reason, why.frees, why.allow);
        if (draft()) zero_ = drafted_zero(known_, form_, why.reason);
        return draft();
    }
    bool draft() const { return selection_.writes == job::Writes::draft; }

    // A draft has those that no pilot leads too, last.
    std::vector<ReadySeat> led() {
        const std::vector<ReadySeat> seats = asked();
        Led out = lead(known_, form_, seats);
        for (const auto& [valve, why] : out.refused)
            hold(valve, why.code, sentence<"of-valve">("valve"_is = id(valve), "reason"_is = why.reason),
                 why.frees);
        if (draft())
            for (const ReadySeat& seat : seats)
                if (std::none_of(out.seats.begin(), out.seats.end(),
                                 [&](const ReadySeat& one) { return one.valve == seat.valve; }))
                    out.seats.push_back(drafted_seat(known_, form_, seat));
        return std::move(out.seats);
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
                            .since_first = shaped.since_first,
                            .begun = selection_.from == id(seat.valve),
                            .depth_known = seat.depth_known});
        }
        FirstInForm first =
            first_in_form(job_, known_.shape.head, known_.hold.setups[form_.setup].id, zero_, form);
        if (first.held && !goes_on(*first.held)) return std::nullopt;
        ZeroPilot zero_pilot = cut::zero_pilot(known_, form_, zero_, seats);
        if (zero_pilot.pilot && zero_.valve) {
            task_.pilot = job_.pilots[*zero_pilot.pilot].name;
            zero_.words = shape::zero_words(task_, zero_);
        }
        sort(seats, seats[first.place]);
        first.place = 0;
        return ReadyForm{std::move(form_), std::move(zero_), zero_pilot,
                         std::move(seats), std::move(first), std::move(restart_)};
    }

    // The first seat, then one pilot after the other: that of the first seat, those that stand in the tool
    // like it, and last that of the touched seat, which comes at the end.
    void sort(std::vector<ReadySeat>& seats, const ReadySeat& the_first) const {
        const ReadySeat first = the_first;
        const auto touched = zero_.on == shape::ZeroOn::old_seat ? zero_.valve : std::nullopt;
        std::optional<std::size_t> last;
        std::vector<std::optional<std::size_t>> pilots;
        for (const ReadySeat& seat : seats) {
            if (seat.valve == touched) last = seat.pilot;
            if (std::find(pilots.begin(), pilots.end(), seat.pilot) == pilots.end())
                pilots.push_back(seat.pilot);
        }
        const auto turn = [&](const ReadySeat& seat) {
            const int when = seat.pilot == first.pilot ? 0
                             : seat.pilot == last      ? 3
                             : seat.use == first.use   ? 1
                                                       : 2;
            return std::pair{when, std::find(pilots.begin(), pilots.end(), seat.pilot) - pilots.begin()};
        };
        const auto rank = [&](const ReadySeat& seat) {
            return std::pair{seat.valve == first.valve ? 0 : seat.valve == touched ? 2 : 1, turn(seat)};
        };
        std::stable_sort(seats.begin(), seats.end(),
                         [&](const ReadySeat& a, const ReadySeat& b) { return rank(a) < rank(b); });
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
            // An old seat that nobody read stands no higher than drawn, or is a new ring: cut says so.
            seat.depth = shaped.depth.value_or(std::max(0.0, -seat.stop));
            seat.u = u_of(shaped.valve);
            // What stands proud of the form is metal too, and so is what the cutter rests on.
            const double metal = std::max(0.0, seat.depth) + std::max(0.0, shaped.proud);
            const double above = std::max(0.0, heights.held_by - std::max(0.0, shaped.proud));
            seat.approach = approach_height(job_, metal, above, seat.u);
            out.push_back(seat);
        }
        return out;
    }

    const Known& known_;
    const job::Job& job_;
    const SeatPlan& plan_;
    FormInSetup form_;
    const job::Selection& selection_;
    Gate& gate_;
    shape::ZeroTask task_;
    shape::Zero zero_;
    Sentence restart_;
};

bool change_voids_zero(const job::Job& job) {
    return job.machine.pilot_change == job::PilotChange::cutter_off &&
           job.cut.pilot != job::PilotUse::planted && job.cut.pilot != job::PilotUse::none;
}

}  // namespace

std::vector<FormInSetup> by_pilot(const Known& known, const SeatPlan& plan, const FormInSetup& form,
                                  const job::Selection& selection, Gate& gate) {
    const bool draft = selection.writes == job::Writes::draft;  // of one piece: it is looked at, not run
    if (draft || !change_voids_zero(known.job) || form.planned.empty()) return {form};
    std::vector<FormInSetup> parts;
    std::vector<std::size_t> in_a_part;
    for (const ReadySeat& seat : Former(known, plan, form, selection, gate).led_at_all()) {
        auto part = std::find_if(parts.begin(), parts.end(),
                                 [&](const FormInSetup& p) { return p.pilot == seat.pilot; });
        if (part == parts.end())
            part = parts.insert(parts.end(), {form.setup, form.tool, {}, {}, seat.pilot});
        part->planned.push_back(seat.shaped);
        in_a_part.push_back(seat.shaped);
    }
    const auto among = [](const std::vector<std::size_t>& seats, std::size_t s) {
        return std::find(seats.begin(), seats.end(), s) != seats.end();
    };
    for (FormInSetup& part : parts)
        for (const std::size_t s : form.all)
            if (among(part.planned, s) || (!among(in_a_part, s) && may_stand(known, s, *part.pilot)))
                part.all.push_back(s);
    return parts;
}

std::optional<ReadyForm> ready_form(const Known& known, const SeatPlan& plan, FormInSetup form,
                                    const job::Selection& selection, Gate& gate) {
    return Former(known, plan, std::move(form), selection, gate).run();
}

}  // namespace seatwright::cut
