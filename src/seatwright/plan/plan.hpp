// A plan: what the stages from hold to cut gave for one job, and everything they had to say.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "seatwright/cut/cut.hpp"
#include "seatwright/job/selection.hpp"
#include "seatwright/prove/prove.hpp"

namespace seatwright::plan {

// A result that is not there is null.
struct Results {
    std::shared_ptr<const hold::Hold> hold;
    std::shared_ptr<const find::Find> find;
    std::shared_ptr<const shape::Shape> shape;
    std::shared_ptr<const cut::Cut> cut;
};

// A view of results, which stay while it or a copy of it does.
class Plan {
    Results results_;

  public:
    // `assumed`: by the reader. Results that are not there are seen as empty ones.
    Plan(std::string of_head, job::Selection selected, std::vector<Sentence> assumed, Results results);

    std::string asked_head;    // as given to the run; empty = none in particular
    job::Selection selection;  // with the mark of this plan as its digest
    Notices given;             // what the job left to defaults
    const hold::Hold& hold;
    const find::Find& find;
    const shape::Shape& shape;
    const cut::Cut& cut;

    Notices notices() const;  // what was given, then all stages in order
    // The same as the papers of one head say it: what stops another is worth knowing and stops nothing here.
    Notices notices_of_head() const;
    // The assumptions among them, each once.
    std::vector<Sentence> all_assumptions() const;
};

// A run of everything up to cut at once; `head` and `selection` as of Asked. std::logic_error where a stage
// cannot be worked out.
Plan make_plan(const job::Job& job, const std::string& head = {}, const job::Selection& selection = {});

// Of part of a head (`only`) what stops seats that were not asked for stops nothing: such warnings and held
// back entries go from all stages. As given where all are asked for, or cut is not there.
Results kept_to(const std::vector<std::string>& only, Results results, const job::Job& job);

// What find says of one head has it among its values. Whether the warning is about another head than this.
bool of_another_head(const Warning& warning, const std::string& head);
// True when a warning or something held back says the plan cannot be carried out as asked.
bool blocked(const Notices& notices);

}  // namespace seatwright::plan
