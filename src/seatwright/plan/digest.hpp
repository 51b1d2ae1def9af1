// The mark that ties the papers of one plan together: sheet, map and programs of one head carry the same.
#pragma once

#include <string>

#include "seatwright/find/find.hpp"
#include "seatwright/job/selection.hpp"

namespace seatwright::plan {

inline constexpr std::size_t digest_letters = 8;

// Of what this head's plan was given: the job and shop files without readings, this head's readings without
// those of its first seats (but for one the plan was made anew after, by a person's choice) and of seats
// after cutting (which count for a restart only, since a program after a broken blade goes by them), what was
// learned from other heads, and the version. The first eight hexadecimal digits of a SHA-256 (FIPS 180-4).
// Another head's readings change it only by what is learned of them.
std::string digest_of(const job::Job& job, const find::Find& find, const std::string& head,
                      const job::Selection& selection);

}  // namespace seatwright::plan
