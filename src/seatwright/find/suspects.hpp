// Touches that do not agree with the others: leave-one-out, worst out, refit, repeat.
//
// d² of a touch is νᵀS⁻¹ν, ν its distance from the prediction of all the others, S the covariance of that
// prediction (casting scatter included) plus the touch's own. It is the fall in chi2 when the touch is left
// out, chi-square with 2 degrees of freedom for an honest touch; suspect above the quantile at 1 − 0.001/n.
// See docs/suspects.md for masked pairs, re-admission, and the measured rates.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "seatwright/find/pose.hpp"

namespace seatwright::find {

// Chance that a setup with nothing wrong shows any suspect, by Bonferroni's bound.
inline constexpr double false_alarm_rate = 0.001;

struct Sorted {
    std::vector<bool> suspect;                       // one a reading: disagrees with the others
    std::vector<bool> set_aside;                     // one a reading: suspect and not in `kept`
    std::vector<std::optional<double>> innovation2;  // one a reading: d² against the others that are kept
    std::vector<Reading> kept;                       // what the pose is fitted to
    bool stood_by_needed = false;  // without those a person stands by nothing could be fitted: they count
    bool undecidable = false;      // two accuse each other equally: both are suspect, neither is set aside
};

// d² of a reading against `others` (it is not among them): both coordinates, or the distance alone where they
// leave the yaw open. None when they foretell nothing there.
std::optional<double> innovation(std::span<const Expected> guides, const Reading& reading,
                                 std::span<const Reading> others, const Prior& prior);

// The chi-square(2) quantile above which a touch among n is suspect: −2·ln(0.001/n).
double suspect_threshold(std::size_t n);

// Touches a person stands by (`keep`) are never suspect, judge no other and are not in `kept`; but where the
// others alone do not say how the setup lies, all touches are kept and none is judged.
Sorted sort_out(std::span<const Expected> guides, std::span<const Reading> readings, const Prior& prior);

}  // namespace seatwright::find
