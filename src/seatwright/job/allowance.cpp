#include "seatwright/job/allowance.hpp"

#include <algorithm>

namespace seatwright::job {

const Allowance* allowance_of(const Job& job, std::string_view what) {
    const auto at = std::find_if(job.allow.begin(), job.allow.end(),
                                 [&](const Allowance& allowance) { return allowance.what == what; });
    return at == job.allow.end() ? nullptr : &*at;
}

}  // namespace seatwright::job
