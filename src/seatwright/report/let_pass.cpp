#include "seatwright/report/let_pass.hpp"

#include "seatwright/words/english_report.hpp"

namespace seatwright::report {

std::vector<Sentence> let_pass(const job::Job& job) {
    std::vector<Sentence> out;
    out.reserve(job.allow.size());
    for (const job::Allowance& allowance : job.allow) {
        const Part why = allowance.why.empty() ? Part(sentence<"no-reason">()) : Part(allowance.why);
        const Part by = allowance.by.empty() ? Part(sentence<"nobody-named">()) : Part(allowance.by);
        out.push_back(sentence<"let-pass">("what"_is = allowance.what, "why"_is = why, "by"_is = by));
    }
    return out;
}

}  // namespace seatwright::report
