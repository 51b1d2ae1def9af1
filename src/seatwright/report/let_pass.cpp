#include "seatwright/report/let_pass.hpp"

#include <fmt/format.h>

namespace seatwright::report {

std::vector<std::string> let_pass(const job::Job& job) {
    std::vector<std::string> out;
    out.reserve(job.allow.size());
    for (const job::Allowance& allowance : job.allow)
        out.push_back(fmt::format("{}: {} ({})", allowance.what,
                                  allowance.why.empty() ? "no reason given" : allowance.why,
                                  allowance.by.empty() ? "nobody named" : allowance.by));
    return out;
}

}  // namespace seatwright::report
