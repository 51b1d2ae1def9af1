// The depth plan after a first seat was measured (working.md, "First seat, trim"): what is cut stands in it
// at its measured height. If limits and spreads still hold, nothing is asked; if not, the depths as planned
// stand beside depths made anew, and a person chooses ([[reading.first]] plan = "shifted" | "anew").
//
// Lengths mm. Depths are those of the problem given: below the old seat, or finished recessions of a plan to
// one height.
#pragma once

#include <optional>
#include <vector>

#include "seatwright/shape/before.hpp"
#include "seatwright/shape/depth_plan.hpp"
#include "seatwright/shape/shape.hpp"

namespace seatwright::shape {

// A seat of the problem that its first reading shows deeper than planned by more than the gauge's U, the
// error of Z being one that may be trimmed (cut.trim_max, or a lead's word): else Z0 is wrong, and no plan is
// made.
struct DeeperFirst {
    std::size_t seat = 0;  // of the problem
    double depth = 0;      // as measured
    job::AfterFirst plan = job::AfterFirst::open;
};

struct AfterFirstSeats {
    DepthOutcome outcome;  // the plan to go by: as chosen, else as it was with what is cut as measured
    std::vector<double> since_first;  // per seat of the problem, as Seat::since_first
    std::optional<PlanAnew> anew;     // where something no longer holds
};

// `old`: per seat of the problem its ρ where its depths are finished recessions (none: not read); empty where
// they are depths.
AfterFirstSeats after_first_seats(const job::Job& job, const DepthProblem& problem, DepthOutcome planned,
                                  const std::vector<DeeperFirst>& firsts,
                                  const std::vector<std::optional<double>>& old = {});

// Of seats planned by depth.
std::vector<DeeperFirst> deeper_firsts(const job::Job& job, const std::string& head, const HeadBefore& before,
                                       const DepthProblem& problem, const DepthOutcome& planned);

// A plan to one height as a problem of finished recessions: each at the height asked for, deeper only where
// that is asked of it.
struct HeightProblem {
    DepthProblem problem;
    DepthOutcome planned;
    std::vector<std::optional<double>> old;  // ρ
    std::vector<DeeperFirst> firsts;
};
HeightProblem height_problem(const job::Job& job, const std::string& head, const HeadBefore& before);

// Held back until it is chosen: the seats still to be cut of the kinds of those first seats, and any whose
// depth is not alike both ways. A blocking warning beside it has both ways in words.
Notices ask_which_plan(const job::Job& job, const PlanAnew& anew);

}  // namespace seatwright::shape
