// Control charts (ISO 7870-2, ASTM E2587): constants, limits and run rules.
#pragma once

#include <span>
#include <string>
#include <vector>

namespace seatwright::prove {

// Mean and standard deviation of the range of n standard normal values, and the mean of their standard
// deviation; n from 2. Computed, not looked up: d2 and d3 by quadrature (absolute error below 1e-9), c4 by
// the gamma function.
double d2(int n);
double d3(int n);
double c4(int n);

struct Limits {
    double centre = 0, lower = 0, upper = 0;
};

// Three sigma about `centre`.
Limits three_sigma(double centre, double sigma);
// Of the range of n values, and of their standard deviation, when the process has `sigma`.
Limits range_limits(double sigma, int n);
Limits deviation_limits(double sigma, int n);

struct RuleHit {
    std::size_t at = 0;  // index of the point that completes it
    std::string rule;
};

// The four Western Electric rules on points given in sigmas from the centre line: one beyond 3; two of three
// beyond 2 on one side; four of five beyond 1 on one side; eight in a row on one side. A point is reported
// once for each rule it completes; rules two and three only where the point itself lies beyond. Source:
// Western Electric, Statistical Quality Control Handbook (1956).
std::vector<RuleHit> western_electric(std::span<const double> z);

}  // namespace seatwright::prove
