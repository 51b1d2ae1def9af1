#include "seatwright/plan/failure.hpp"

#include "seatwright/words/english_plan.hpp"

namespace seatwright::plan {

Sentence Failure::words() const {
    return sentence<"stopped-by-error">("stage"_is = job::name_of(stage));
}

Warning warning_of(const Failure& failure) {
    return {std::string(job::name_of(failure.stage)), "program-error", std::nullopt,
            sentence<"program-error">("stage"_is = job::name_of(failure.stage)), Severity::blocking};
}

Notices with(Notices notices, const std::vector<Failure>& failures) {
    for (const Failure& failure : failures) notices.warnings.push_back(warning_of(failure));
    return notices;
}

}  // namespace seatwright::plan
