// The schema, as numbered steps. A step that has been released is never edited: a change is a new step.
#pragma once

#include "seatwright/store/dialect.hpp"

namespace seatwright::store {

// Brings the database from whatever step it is at to the newest, all steps in one transaction: done whole or
// not at all. Throws std::runtime_error with a sentence when the database is ahead of this program.
void migrate(soci::session& sql, const Dialect& dialect);

// Number of the newest step this program knows.
long long newest_migration();

}  // namespace seatwright::store
