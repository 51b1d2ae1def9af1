// Seats cut to depths somebody asked for instead of the planned ones, and which limits that breaks.
//
// Lengths mm, volumes mm3.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "seatwright/shape/depth_problem.hpp"
#include "seatwright/shape/shape.hpp"

namespace seatwright::shape {

// No seat is cut deeper: a drag that went astray.
inline constexpr double most_asked = 100;

// A spread that those depths (one a seat) do not keep.
struct BrokenSpread {
    enum class Of { stems, chambers } of = Of::stems;
    Sentence text;
};
std::vector<BrokenSpread> broken_spreads(const DepthProblem& problem, const std::vector<double>& depth);

struct AskedDepths {
    bool changed = false;  // none of the seats asked for has a planned depth: the rest is empty
    std::optional<double> total;
    job::PerKind<std::optional<double>> stem_spread;
    std::optional<double> chamber_spread;
    std::vector<Warning> broken;  // blocking: cleanup, own limit, stem spread, chamber spread
};

// Puts the asked depths (by valve id) into the seats that have a planned one, and sums up the head.
AskedDepths cut_as_asked(const DepthProblem& problem, const std::map<std::string, double>& asked,
                         std::vector<Seat>& seats);

}  // namespace seatwright::shape
