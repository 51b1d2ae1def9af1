#include "seatwright/cut/files.hpp"

#include <algorithm>

#include "seatwright/cut/routes.hpp"

namespace seatwright::cut {

namespace {

class Planner {
  public:
    Planner(const Known& known, const SeatPlan& plan, const job::Selection& selection, Gate& gate)
        : known_(known), job_(known.job), maker_(known, plan, selection, gate), selection_(selection) {}

    void setup(std::size_t s, const std::vector<const ReadyForm*>& forms) {
        for (const Batch& batch : batches_of(job_, known_.hold, forms)) write(s, batch);
    }

    PlannedFiles out;

  private:
    bool draft() const { return selection_.writes == job::Writes::draft; }

    void write(std::size_t setup, const Batch& batch) {
        const std::vector<Portion>& portions = batch.portions;
        const bool stops = std::any_of(portions.begin(), portions.end(),
                                       [](const Portion& portion) { return portion.form->first.stops; });
        const bool wait = std::any_of(portions.begin(), portions.end(),
                                      [](const Portion& portion) { return portion.waits(); });
        const Route empty = maker_.begin(setup, portions.front().seats.front()->use);
        Route whole = empty;
        for (const Portion& portion : portions) maker_.all_of(whole, portion);
        maker_.finish(whole, whole, portions);
        out.routes.push_back(whole);
        if (!stops || draft()) return hand_out(std::move(whole), batch.turn);
        Route route = empty;
        if (job_.machine.trim == job::TrimAt::control) {
            for (const Portion& portion : portions) maker_.short_first(route, portion);
            if (!route.stops.empty()) route.measure_after = route.stops.size() - 1;
            for (const Portion& portion : portions) maker_.after_first(route, portion);
        } else {
            route.part = wait ? FilePart::first : FilePart::rest;
            for (const Portion& portion : portions) {
                if (!wait)
                    maker_.rest_of(route, portion);
                else if (portion.waits())
                    maker_.short_first(route, portion);
            }
            if (route.stops.empty()) return;
            if (wait) route.measure_after = route.stops.size() - 1;
        }
        maker_.finish(route, whole, portions);
        hand_out(std::move(route), batch.turn);
    }

    void hand_out(Route route, int turn) {
        std::string name = file_name(job_, route, known_.hold.setups[route.setup].id, turn);
        out.files.push_back({std::move(route), std::move(name)});
    }

    const Known& known_;
    const job::Job& job_;
    RouteMaker maker_;
    const job::Selection& selection_;
};

}  // namespace

PlannedFiles plan_files(const Known& known, const SeatPlan& plan, const Sequence& sequence,
                        const job::Selection& selection, Gate& gate) {
    ReadyForms ready = ready_forms(known, plan, sequence, selection, gate);
    Planner planner(known, plan, selection, gate);
    for (std::size_t s = 0; s < known.hold.setups.size(); ++s) {
        std::vector<const ReadyForm*> forms;
        for (const ReadyForm& form : ready.forms)
            if (form.form.setup == s) forms.push_back(&form);
        if (!forms.empty()) planner.setup(s, forms);
    }
    PlannedFiles out = std::move(planner.out);
    out.forms = std::move(ready.forms);
    out.program_z = std::move(ready.program_z);
    out.warnings = std::move(ready.warnings);
    return out;
}

}  // namespace seatwright::cut
