// Which cutter of the shelf makes a form, and why the others do not.
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
    Section blade;  // the blade's own edge, longer than the form where its facets are
};

// A blade fits a form when it has as many facets, their angles equal within 0.1 deg, each at least as long,
// and its gauge diameter range holds the form's gauge diameter, to which it is set. Among those the least
// deviation of face width and contact diameter, then of the other facets' lengths, then the first on the
// shelf.
CutterChoice choose_cutter(const job::Job& job, job::Kind kind);

// For every blade of the shelf that does not fit: what it lacks. Fewest faults first.
std::vector<NearMiss> near_misses(const job::Job& job, job::Kind kind);

}  // namespace seatwright::shape
