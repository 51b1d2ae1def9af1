// Readings that do not agree with the others: worst out, refit, repeat.
//
// w of a row is its residual over that residual's own sd: standard normal for an honest reading; suspect
// above the two-sided quantile at 1 − 0.001/n. Rows that could be the bad one as well (their residuals say
// the same) are set aside with it: which of them is wrong cannot be told. A row set aside comes back when the
// others foretell it well enough to be judged and it agrees. Rows a person stands by (sure) are never set
// aside.
#pragma once

#include "seatwright/survey/solve.hpp"

namespace seatwright::survey {

// The chance that readings with nothing wrong show any suspect, by Bonferroni's bound.
inline constexpr double false_alarm_rate = 0.001;

struct Sorted {
    Solution solution;
    std::size_t bad = 0;  // readings found wrong; those set aside with them not counted
};

// Marks rows as set aside, with why. Error: the solution does not settle.
Solved<Sorted> sort_out(const Layout& layout, std::vector<Row>& rows, const Eigen::VectorXd& start);

// Sets aside readings so far off (100 sds) that the solution would go astray with them: judged about `at`, a
// place near the solution, without following them. How many were bad.
std::size_t set_gross_aside(const Layout& layout, std::vector<Row>& rows, const Eigen::VectorXd& at);

double suspect_limit(std::size_t n);

}  // namespace seatwright::survey
