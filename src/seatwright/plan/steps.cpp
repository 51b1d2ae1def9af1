#include "seatwright/plan/steps.hpp"

#include <algorithm>

#include "seatwright/find/find.hpp"
#include "seatwright/hold/fields.hpp"
#include "seatwright/job/doubts.hpp"
#include "seatwright/plan/digest.hpp"
#include "seatwright/plan/result_cache.hpp"

namespace seatwright::plan {

namespace {

using job::Stage;

// find takes setups and posts of hold, and how much hold asks; what else hold says is not its business.
void taken_by_find(FingerprintOf& print, const void* result) {
    const auto& hold = *static_cast<const hold::Hold*>(result);
    print.add(hold.setups).add(hold.posts).add(job::asked_in(hold));
}

// shape takes setups of hold, and of hold and find how much they ask. Which guides must be seen to first is
// find's to say too, but of the readings alone, which shape is given.
void taken_by_design_of_hold(FingerprintOf& print, const void* result) {
    const auto& hold = *static_cast<const hold::Hold*>(result);
    print.add(hold.setups).add(job::asked_in(hold));
}
void taken_by_design_of_find(FingerprintOf& print, const void* result) {
    const auto& find = *static_cast<const find::Find*>(result);
    print.add(job::asked_in(find));
}

template <class T>
Result made_result(T&& value) {
    return std::make_shared<const std::decay_t<T>>(std::forward<T>(value));
}

const hold::Hold& hold_of(const Given& g) {
    return g.of<hold::Hold>(Step::hold);
}
const find::Find& find_of(const Given& g) {
    return g.of<find::Find>(Step::find);
}
const shape::Shape& design_of(const Given& g) {
    return g.of<shape::Shape>(Step::design);
}

Result work_stand(const Given& g) {
    return made_result(hold::plan(g.job, g.asked.head));
}

Result work_hold(const Given& g) {
    if (!g.overrides.attitude) return g.result(Step::stand);
    return made_result(held_at(g.of<hold::Hold>(Step::stand), g.job, *g.overrides.attitude));
}

Result work_find(const Given& g) {
    if (g.cache == nullptr) return made_result(find::locate(g.job, hold_of(g)));
    const find::Before before{g.cache->located, g.beside};
    return made_result(find::locate(g.job, hold_of(g), &before));
}

Result work_mark(const Given& g) {
    return made_result(digest_of(g.job, find_of(g), g.head, g.asked.selection));
}

Result work_design(const Given& g) {
    if (g.overrides.depths.empty()) return made_result(shape::design(g.job, hold_of(g), find_of(g), g.head));
    return made_result(shape::with_depths(g.job, hold_of(g), find_of(g), g.head, g.overrides.depths));
}

Result work_cut(const Given& g) {
    job::Selection selection = g.asked.selection;
    selection.digest = g.of<std::string>(Step::mark);
    return made_result(cut::plan(g.job, hold_of(g), find_of(g), design_of(g), selection));
}

// A seat that is not cut stops nowhere.
Result work_shape(const Given& g) {
    if (!g.result(Step::cut)) return g.result(Step::design);
    shape::Shape shape = design_of(g);
    const auto& cut = g.of<cut::Cut>(Step::cut);
    for (shape::Seat& seat : shape.seats) {
        const auto of = std::find_if(cut.seats.begin(), cut.seats.end(),
                                     [&](const cut::SeatCut& one) { return one.valve == seat.valve; });
        seat.program_z = of == cut.seats.end() ? std::nullopt : of->program_z;
    }
    return made_result(std::move(shape));
}

Result work_prove(const Given& g) {
    const auto before = g.cache == nullptr ? nullptr : g.cache->proved(g.beside);
    return made_result(prove::judge(g.job, g.asked.head, before.get()));
}

// What a row leaves out of the job it does not read (tests/plan/run_test.cpp holds every key of a job file
// against it). A row that leaves out too little is worked out more often than it must.
Steps make_steps() {
    using enum Part;
    const Parts stand =
        Parts::all_but({Part::forecast, gauges,     title,  seat,    depth,       Part::find, Part::cut,
                        cutters,        materials,  rates,  dialect, assumptions, given,      seats,
                        proofs,         own_proofs, firsts, heads,   first_head,  selection});
    const Parts found = Parts::all_but(
        {Part::forecast, gauges,     title,  valve,   seat,        depth,        figures,  fixture,
         cutters,        materials,  rates,  dialect, assumptions, given,        levels,   seats,
         proofs,         own_proofs, firsts, heads,   asked_head,  planned_head, selection});
    const Parts mark{given, touches, levels, guides, seats, own_proofs, firsts, planned_head, selection};
    const Parts design =
        Parts::all_but({Part::forecast, gauges, title, rates, dialect, assumptions, given, touches, levels,
                        proofs, own_proofs, heads, first_head, asked_head, selection});
    const Parts cutting =
        Parts::all_but({Part::forecast, gauges, assumptions, given, proofs, heads, first_head, asked_head});
    const Parts proof =
        Parts::all_but({Part::forecast, depth, Part::find, allow, fixture, rates, dialect, assumptions, given,
                        touches, seats, own_proofs, firsts, heads, first_head, planned_head, selection});
    const Need setups{Step::hold, true, taken_by_find};
    const Need held{Step::hold, true, taken_by_design_of_hold};
    const Need asked_of_find{Step::find, true, taken_by_design_of_find};
    const auto turned = [](const Overrides& overrides) { return overrides.attitude.has_value(); };
    const auto deeper = [](const Overrides& overrides) { return !overrides.depths.empty(); };
    return {
        {{Step::stand, Stage::hold, {}, stand, work_stand},
         {Step::hold, Stage::hold, {{Step::stand}}, {}, work_hold, turned},
         {Step::find, Stage::find, {setups}, found, work_find, nullptr, {touches, guides}},
         {Step::mark, Stage::find, {{Step::find}}, mark, work_mark},
         {Step::design, Stage::shape, {held, asked_of_find}, design, work_design, deeper},
         {Step::cut,
          Stage::cut,
          {{Step::hold}, {Step::find}, {Step::mark}, {Step::design}},
          cutting,
          work_cut},
         {Step::shape, Stage::shape, {{Step::design}, {Step::cut, false}}, {}, work_shape},
         {Step::prove, Stage::prove, {}, proof, work_prove, nullptr, {levels, guides, proofs, asked_head}}}};
}

}  // namespace

const Steps& the_steps() {
    static const Steps steps = make_steps();
    return steps;
}

}  // namespace seatwright::plan
