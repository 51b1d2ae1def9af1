// The depth plan as numbers alone: what the linear program, the search in whole steps and the tests speak of.
//
// Depths, heights and limits mm, volumes mm3, areas mm2.
#pragma once

#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "seatwright/job/head.hpp"

namespace seatwright::shape {

inline constexpr double no_limit = std::numeric_limits<double>::infinity();

struct DepthSeat {
    std::size_t valve = 0;              // whose; not used in the sums, nor are the words:
    std::string name;                   // "3E"
    std::string limited_by;             // what sets `high`
    std::string needed_by = "cleanup";  // what sets `low`
    job::Kind kind = job::Kind::intake;
    double low = 0, high = no_limit;      // low ≤ d ≤ high
    bool by_hand = false;                 // low = high, decided by a person, and need be no whole step
    std::optional<double> stem;           // stem height before; none: not held to the spread
    std::optional<std::size_t> cylinder;  // index into `chamber`; none: its volume is not known
};

// Minimise Σ d subject to low ≤ d ≤ high, per kind all stem + d within stem_spread, all
// chamber + Σ area·d within chamber_spread.
struct DepthProblem {
    std::vector<DepthSeat> seats;
    std::optional<double> stem_spread;
    std::vector<double> chamber;     // per cylinder of known volume, before
    std::vector<int> cylinder_name;  // and what the head calls it
    std::optional<double> chamber_spread;
    job::PerKind<double> area{};  // (π/4)·D_head²
    double step = 0;              // 0: any depth will do

    bool holds_stems() const { return stem_spread.has_value(); }
    bool holds_chambers() const { return chamber_spread.has_value() && chamber.size() > 1; }
};

// The problem less some seats (gone[i]: seat i). A cylinder that loses a seat leaves the chamber spread: its
// volume is settled when the insert is cut.
DepthProblem without(const DepthProblem& problem, const std::vector<bool>& gone);

// The same problem for what is still to be cut once the depths by hand are: those seats have no depth left,
// and heights and volumes stand as they leave them. So whole steps are asked of the others alone.
DepthProblem after_depths_by_hand(DepthProblem problem);

// Heights and volumes the depths lead to, as spreads; none where nothing is known.
job::PerKind<std::optional<double>> stem_spread_after(const DepthProblem& problem,
                                                      const std::vector<double>& depth);
std::optional<double> chamber_spread_after(const DepthProblem& problem, const std::vector<double>& depth);

}  // namespace seatwright::shape
