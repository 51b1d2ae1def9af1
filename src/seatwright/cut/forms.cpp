#include "seatwright/cut/forms.hpp"

#include <algorithm>

#include "seatwright/cut/restart.hpp"
#include "seatwright/cut/zero_in_force.hpp"
#include "seatwright/words/english_cut.hpp"

namespace seatwright::cut {

namespace {

bool among(const std::vector<std::size_t>& seats, std::size_t s) {
    return std::find(seats.begin(), seats.end(), s) != seats.end();
}

class Readier {
  public:
    Readier(const Known& known, const SeatPlan& plan, const Sequence& sequence,
            const job::Selection& selection, Gate& gate)
        : known_(known),
          job_(known.job),
          plan_(plan),
          sequence_(sequence),
          selection_(selection),
          gate_(gate) {}

    ReadyForms run() {
        out_.program_z.resize(plan_.seats.size());
        std::vector<FormInSetup> parts;
        for (const FormInSetup& form : forms_of()) {
            const std::vector<FormInSetup> of_pilots = by_pilot(known_, plan_, led(form), selection_, gate_);
            if (of_pilots.empty()) stops_of(form, std::nullopt, form.planned);
            for (const FormInSetup& part : of_pilots) {
                parts.push_back(part);
                whole_.push_back(form.planned);
                // Of a form in one piece those held back stand in its order too.
                if (!part.pilot) parts.back().planned = form.planned;
            }
        }
        if (selection_.from) from_broken(parts);
        for (std::size_t i = 0; i < parts.size(); ++i) ready(std::move(parts[i]), whole_[i]);
        return std::move(out_);
    }

  private:
    const std::string& id(std::size_t valve) const { return job_.head.valves.at(valve).id; }
    const std::string& id_of(std::size_t shaped) const { return id(known_.shape.seats[shaped].valve); }
    bool held(std::size_t shaped) const { return gate_.holds(known_.shape.seats[shaped].valve); }
    bool draft() const { return selection_.writes == job::Writes::draft; }
    bool asked_for(std::size_t shaped) const {
        return selection_.only.empty() || std::find(selection_.only.begin(), selection_.only.end(),
                                                    id_of(shaped)) != selection_.only.end();
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
        // Files, card and a restart go setup by setup as the head is held, whatever saves a change of cutter.
        std::stable_sort(forms.begin(), forms.end(),
                         [](const FormInSetup& a, const FormInSetup& b) { return a.setup < b.setup; });
        return forms;
    }

    // Without the seats held back, whose pilots count for nothing.
    FormInSetup led(FormInSetup form) const {
        if (!draft()) std::erase_if(form.planned, [&](std::size_t s) { return held(s); });
        return form;
    }

    void ready(FormInSetup form, const std::vector<std::size_t>& whole) {
        const FormInSetup before = form;
        if (!selection_.only.empty())
            for (const std::size_t s : form.planned)
                if (asked_for(s) && done_already(known_, s, selection_))
                    out_.warnings.push_back({"cut", "done-already", id_of(s),
                                             sentence<"done-already">("valve"_is = id_of(s)),
                                             Severity::note});
        std::erase_if(form.planned, [&](std::size_t s) {
            return !asked_for(s) || (!draft() && held(s)) || done_already(known_, s, selection_) ||
                   counts_as_cut(whole, s);
        });
        form.touched = zero_in_force(known_, plan_, before, form, selection_, gate_);
        auto made = form.planned.empty() ? std::nullopt
                                         : ready_form(known_, plan_, std::move(form), selection_, gate_);
        stops_of(before, made, whole);
        if (!made) return;
        tell(*made);
        out_.forms.push_back(std::move(*made));
    }

    // Measured after cutting, where others of its form are not: it counts as cut until it is asked for by
    // name. A form measured as a whole keeps its files, for the papers.
    bool counts_as_cut(const std::vector<std::size_t>& whole, std::size_t s) const {
        return selection_.whole() && measured_after(known_, s) &&
               std::any_of(whole.begin(), whole.end(),
                           [&](std::size_t other) { return !measured_after(known_, other); });
    }

    // Z of all its seats that do not count as cut, as if those held back were written too.
    void stops_of(const FormInSetup& form, const std::optional<ReadyForm>& made,
                  const std::vector<std::size_t>& whole) {
        std::optional<double> zeta, shift;
        if (made) {
            zeta = made->zero.zeta;
            shift = shift_of(*made);
        } else if (const auto asked = zero_asked(known_, form, selection_)) {
            if (const auto zero = shape::take_zero(asked->task)) zeta = zero->zeta;
        }
        if (!zeta) return;
        for (std::size_t i = 0; i < plan_.seats.size(); ++i) {
            const std::size_t s = plan_.shaped[i];
            if (!among(form.all, s) || counts_as_cut(whole, s)) continue;
            // A seat of no part has its Z from the first it could be in.
            if (form.pilot && !among(form.planned, s) && out_.program_z[i]) continue;
            const shape::Seat& seat = known_.shape.seats[s];
            if (const auto stop = heights_of(known_, seat).stop)
                out_.program_z[i] =
                    0.0 +  // no zero with a sign
                    job_.machine.z_sign *
                        (shape::stop_z(held_at(known_.hold, seat.valve).held->map.z(), *stop, *zeta) +
                         shift.value_or(0));
        }
    }

    // A blade broke: what its file cut before that seat is not cut again, nor what other cutters cut before.
    void from_broken(std::vector<FormInSetup>& forms) const {
        bool reached = false;
        for (FormInSetup& form : forms) {
            const auto broke = [&](std::size_t s) { return id_of(s) == *selection_.from; };
            const std::vector<std::size_t>& seats = form.pilot ? form.planned : form.all;
            const bool here = std::any_of(seats.begin(), seats.end(), broke);
            if (!reached && !here) form.planned.clear();
            reached = reached || here;
            if (!here) continue;
            std::vector<std::string> ids;
            for (const std::size_t s : form.all) ids.push_back(id_of(s));
            const FirstsOfOld firsts = firsts_of_old(job_, known_.shape.head, ids, *selection_.from);
            std::vector<std::size_t> order = order_with(form, firsts.old);
            auto at = std::find_if(order.begin(), order.end(), broke);
            const bool new_blades =
                std::any_of(at, order.end(), [&](std::size_t s) { return id_of(s) == firsts.perhaps_new; });
            if (firsts.perhaps_new && !new_blades) {
                order = order_with(form, job_.readings.firsts);
                at = std::find_if(order.begin(), order.end(), broke);
            }
            const std::vector<std::size_t> its = form.planned;
            form.planned.assign(at, order.end());
            if (form.pilot) std::erase_if(form.planned, [&](std::size_t s) { return !among(its, s); });
            form.all = std::move(order);
        }
    }

    // The order in which the files of the whole head cut a form's seats, with these readings of first seats.
    std::vector<std::size_t> order_with(const FormInSetup& form, GrowingList<job::FirstSeat> firsts) const {
        job::Job job = job_;
        // A trim too large to go on with changes nothing about what was cut.
        for (const job::FirstSeat& reading : firsts)
            job.allow.push_back({"trim " + reading.valve, "", "", 0});
        job.readings.firsts = std::move(firsts);
        const Known known{job, known_.hold, known_.find, known_.shape};
        Gate unheard = gate_;
        FormInSetup whole = form;
        std::erase_if(whole.planned, [&](std::size_t s) { return held(s); });
        std::vector<std::size_t> order;
        if (!whole.planned.empty())
            if (const auto made = ready_form(known, plan_, whole, {}, unheard))
                for (const ReadySeat& seat : made->seats) order.push_back(seat.shaped);
        for (const std::size_t s : form.all)
            if (!among(order, s)) order.push_back(s);
        return order;
    }

    void tell(const ReadyForm& form) {
        const auto say = [&](const char* code, const std::string& valve, Sentence text) {
            out_.warnings.push_back({"cut", code, valve, std::move(text), Severity::note});
        };
        const std::string& first = id(form.seats.front().valve);
        if (form.first.other) say("first-other", first, *form.first.other);
        if (form.first.stop_why) say("first-stop", first, *form.first.stop_why);
        if (!form.restart.empty()) say("restart", first, form.restart);
        if (form.first.twice) say("first-twice", first, *form.first.twice);
        if (form.first.past_limit) say("first-past-limit", first, *form.first.past_limit);
        if (form.first.stops && !form.first.measured && job_.machine.trim == job::TrimAt::file)
            say("first-seat", first,
                sentence<"first-seat">(
                    "valve"_is = first, "cutter"_is = form.form.tool.number,
                    "short"_is = form.first.short_by > 0
                                     ? sentence<"so-much-short">("short"_is = as_length(form.first.short_by))
                                     : Sentence(),
                    "type"_is =
                        form.seats.front().depth_known ? sentence<"its-depth">() : sentence<"its-height">()));
    }

    const Known& known_;
    const job::Job& job_;
    const SeatPlan& plan_;
    const Sequence& sequence_;
    const job::Selection& selection_;
    Gate& gate_;
    std::vector<std::vector<std::size_t>> whole_;  // of each part the seats of its form
    ReadyForms out_;
};

}  // namespace

ReadyForms ready_forms(const Known& known, const SeatPlan& plan, const Sequence& sequence,
                       const job::Selection& selection, Gate& gate) {
    return Readier(known, plan, sequence, selection, gate).run();
}

double shift_of(const ReadyForm& form) {
    return form.first.trim ? form.first.trim->shift : 0;
}

}  // namespace seatwright::cut
