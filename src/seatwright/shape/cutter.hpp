// Which cutter of the shelf makes a form, judged by the seat it leaves, and why the others do not.
//
// A blade makes a form when it has as many facets, their angles equal within 0.1 deg, and its gauge diameter
// range holds the form's gauge diameter (middle of the face), to which it is set. What it then leaves:
//   face width       the width of the blade's own face,
//   contact diameter gauge + face width·cos α,
//   other facets     as long as the blade's own; each must be at least as long as the form asks.
// The face keeps its tolerance when its width is within seat.width_tol of the width asked, more or less
// alike; where the job gives no tolerance any width keeps it. Lengths mm, angles rad.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/shape/shape.hpp"

namespace seatwright::shape {

struct CutterChoice {
    std::optional<std::size_t> cutter;  // index into job.cutters
    double blade_setting = 0;           // gauge diameter (middle of the face) to set the blade to
    double cut_width = 0;               // of the face as this blade leaves it
    double cut_contact_od = 0;
    // The face is beyond its tolerance and an allowance lets it pass: index into job.allow.
    std::optional<std::size_t> allowed;
    Section blade;  // the blade's own edge, longer than the form where its facets are
};

// Of the blades that make the form and keep its tolerances the one whose seat is nearest to what was asked:
// least deviation of face width and contact diameter, then of the other facets' lengths, then the first on
// the shelf. Where none keeps them and the job has allow = [{ what = "width intake", … }], the nearest of
// those that break the face width alone.
CutterChoice choose_cutter(const job::Job& job, job::Kind kind);

// For every blade of the shelf that does not make the form within its tolerances: what it lacks or would
// leave. Those that make the form first, nearest by outcome (face and shortfalls summed) before the others;
// then the rest, fewest faults first.
std::vector<NearMiss> near_misses(const job::Job& job, job::Kind kind);

// What is to be said of the choice: no cutter makes the form, or a face let pass beyond its tolerance.
Notices cutter_notices(const job::Job& job, job::Kind kind, const CutterChoice& choice,
                       const std::vector<NearMiss>& misses);

// The seats that would be cut and have no cutter, held back (no-cutter).
std::vector<HeldBack> held_without_cutter(const job::Job& job, const Shape& shape);

}  // namespace seatwright::shape
