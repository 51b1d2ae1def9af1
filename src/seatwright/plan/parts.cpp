#include "seatwright/plan/parts.hpp"

#include "seatwright/job/doubts.hpp"
#include "seatwright/job/fields.hpp"
#include "seatwright/job/heads.hpp"
#include "seatwright/job/of_head.hpp"
#include "seatwright/words/in_words.hpp"

namespace seatwright::plan {

namespace {

class Printing {
  public:
    template <class... Of>
    void put(Part part, const Of&... of) {
        FingerprintOf print;
        (print.add(of), ...);
        set(part, print);
    }
    void set(Part part, const FingerprintOf& print) { prints_[static_cast<std::size_t>(part)] = print.end(); }
    PartPrints take() { return prints_; }

  private:
    PartPrints prints_{};
};

void put_readings(Printing& prints, const job::Readings& readings, const std::string& planned) {
    const auto& [touches, levels, guides, seats, proofs, firsts] = readings;
    prints.put(Part::touches, touches);
    prints.put(Part::levels, levels);
    prints.put(Part::guides, guides);
    prints.put(Part::seats, seats);
    prints.put(Part::proofs, proofs);
    prints.put(Part::firsts, firsts);
    FingerprintOf own;
    for (const job::SeatAfter& proof : job::of_head(proofs, planned)) own.add(proof);
    prints.set(Part::own_proofs, own);
}

}  // namespace

PartPrints prints_of(const job::Job& job, const Asked& asked) {
    // All members by name: a job with one more does not compile here until it has a part.
    const auto& [title, file, units, programs_units, head, valve, seat, guide, depth, find, cut, forecast,
                 sure, allow, figures, machine, fixture, machine_of_shelf, fixture_of_shelf, fixtures, pilots,
                 cutters, materials, gauges, rates, dialect, readings, assumptions, given, lines] = job;
    Printing prints;
    prints.put(Part::title, title);
    prints.put(Part::units, units, programs_units);
    prints.put(Part::head, head);
    prints.put(Part::valve, valve);
    prints.put(Part::seat, seat);
    prints.put(Part::guide, guide);
    prints.put(Part::depth, depth);
    prints.put(Part::find, find);
    prints.put(Part::cut, cut);
    prints.put(Part::forecast, forecast);
    prints.put(Part::sure, sure);
    prints.put(Part::allow, allow);
    // How many figures fit which unit only counts where they say that the whole file is in the other one.
    const bool other_unit = figures.units.whole_file_reads_other();
    prints.put(Part::figures, figures.odd, figures.file_units, other_unit,
               other_unit ? figures.units.in_other_unit : 0);
    prints.put(Part::whole_file, job::asks_of_whole_file(job));
    prints.put(Part::machine, machine, machine_of_shelf);
    prints.put(Part::fixture, fixture, fixtures, fixture_of_shelf);
    prints.put(Part::pilots, pilots);
    prints.put(Part::cutters, cutters);
    prints.put(Part::materials, materials);
    prints.put(Part::gauges, gauges);
    prints.put(Part::rates, rates);
    prints.put(Part::dialect, dialect);
    prints.put(Part::assumptions, in_words(assumptions, {}));
    prints.put(Part::given, given);
    const auto heads = job::known_heads(job);
    const std::string planned = job::planned_head(job, asked.head);
    put_readings(prints, readings, planned);
    prints.put(Part::heads, heads);
    prints.put(Part::first_head, heads.front());
    prints.put(Part::asked_head, asked.head);
    prints.put(Part::planned_head, planned);
    prints.put(Part::selection, asked.selection.only, asked.selection.from, asked.selection.writes);
    return prints.take();
}

}  // namespace seatwright::plan
