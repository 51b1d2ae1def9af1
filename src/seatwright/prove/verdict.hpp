// The decision rule of ISO 14253-1 and the uncertainty it needs (JCGM 100, the GUM).
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/base/units.hpp"
#include "seatwright/prove/prove.hpp"

namespace seatwright::prove {

// Coverage factor when every line of the budget has many degrees of freedom: 95.45 % of a normal.
inline constexpr double usual_coverage = 2;

struct Uncertainty {
    double u = 0;               // combined standard uncertainty
    std::optional<double> dof;  // effective (Welch–Satterthwaite, JCGM 100 G.4.1); none = infinite
    double coverage = usual_coverage;
    double expanded = 0;  // coverage·u
};

// Root sum of squares of independent lines. The coverage factor is exactly 2 when all lines have infinite
// degrees of freedom, else Student's factor for 95.45 % at the effective degrees of freedom, not rounded.
Uncertainty combine(const std::vector<BudgetLine>& lines);
// Student's two-sided factor for `probability` at `dof`.
double student_factor(double probability, double dof);

// A value within this of a decision limit counts as on it: ten times the rounding of a size read in inches
// and held in mm, a thousandth of the finest gauge.
inline constexpr double decision_rounding = 1e-9;

// Pass when low + U ≤ value ≤ high − U, fail when value ≤ low − U or value ≥ high + U, else undecided. With
// U = 0 the limits themselves pass.
Verdict decide(double value, std::optional<double> low, std::optional<double> high, double expanded);

// The worst of several: fail, undecided, not measured, pass.
Verdict worse(Verdict a, Verdict b);

// What would decide an undecided judgement, each way by itself: how good the gauge, how many more readings
// that scatter like those at hand (Student's factor falls with their number). The gauge's figure is rounded
// down, so that it does. A budget line with degrees of
// freedom is the repeats, all others the gauge.
Sentence what_would_decide(const Judgement& judgement);

}  // namespace seatwright::prove
