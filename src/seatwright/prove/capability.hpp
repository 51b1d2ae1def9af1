// How well a process keeps its limits.
#pragma once

#include <optional>
#include <string>

namespace seatwright::prove {

struct Capability {
    std::optional<double> cp;  // only with both limits
    std::optional<double> cpk, cpk_low, cpk_high;
};

// Cp = (high − low)/(6σ), Cpk = least distance of the mean from a limit/(3σ). The two-sided 95 % limits are
// Cpk ± 1.96·√(1/(9n) + Cpk²/(2(n − 1))) (Bissell 1990; NIST/SEMATECH e-Handbook 6.1.6). None of them without
// a limit or when σ is 0.
Capability capability(double mean, double sigma, std::size_t n, std::optional<double> low,
                      std::optional<double> high);

// Factors of normal tolerance intervals: mean ± k·s (two-sided) or mean + k·s (one-sided) holds `share` of
// the population with `confidence`. n ≥ 2. Exact: one-sided by the non-central t distribution (Owen 1968),
// two-sided by the integral over the sample mean (ISO 16269-6), to 1e-6.
double one_sided_tolerance_factor(std::size_t n, double share, double confidence);
double two_sided_tolerance_factor(std::size_t n, double share, double confidence);
// Howe's approximation of the latter (1969), as printed in the NIST/SEMATECH e-Handbook 7.2.6.3.
double howe_tolerance_factor(std::size_t n, double share, double confidence);

// Items to measure without a single failure so that `pass_rate` is shown with `confidence`: ⌈ln(1−C)/ln R⌉.
std::size_t zero_failure_sample(double pass_rate, double confidence);
// Items to measure in all, `failed` of which fail, so that the bound below reaches `pass_rate`: of no failure
// the figure above.
std::size_t sample_with_failures(std::size_t failed, double pass_rate, double confidence);
// Lower bound of the pass rate after `passed` of `measured` (Clopper and Pearson 1934, one-sided).
double pass_rate_bound(std::size_t passed, std::size_t measured, double confidence);

}  // namespace seatwright::prove
