// From heights and depths to what is done with each seat: cut (and where it ends), a new insert, or held back
// because a reading is lacking, because the old seat is already below the finished height, or because a limit
// is in the way.
//
// Frames and signs as shape.hpp and heights.hpp; lengths mm.
#pragma once

#include <string>
#include <vector>

#include "seatwright/shape/before.hpp"
#include "seatwright/shape/depth_plan.hpp"
#include "seatwright/shape/shape.hpp"

namespace seatwright::shape {

// A seat is not cut shallower than this: rounding of a finished height less a recession.
inline constexpr double least_cut = 1e-9;

// Sets a seat that may be cut back: as held back, and as a blocking warning of the same code.
void hold_back(Notices& notices, const std::string& valve, HeldCode code, Sentence reason, Sentence frees);

// Fills decision, depth and finished height of every seat that may be cut. Seats to a finished height f:
// depth f − ρ where ρ is known. The rest: as the depth plan has them (`alone`: that of HeadBefore::alone);
// its inserts and depths by hand beyond a limit are held back. allow = [{ what = "below finish 1I", … }] lets
// such a seat be cut to its finished height.
Notices settle_seats(const job::Job& job, const HeadBefore& before, const DepthOutcome& outcome,
                     const DepthOutcome& alone, std::vector<Seat>& seats);

// Counts anew what the plan's figures say of the head where seats are cut to a finished height: total depth
// (none where one is not known), spread of stem heights and of chambers. Of seats that are cut.
void sum_up(const job::Job& job, const HeadBefore& before, const std::vector<Seat>& seats, DepthPlan& plan);

// Where a seat ends, from its depth or finished height: stop_s and, where ρ is known, both of them.
void set_stop(Seat& seat);

}  // namespace seatwright::shape
