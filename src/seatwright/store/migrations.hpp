// The schema, as numbered steps. A step that has been released is never edited: a change is a new step.
#pragma once

#include <stdexcept>

#include "seatwright/store/dialect.hpp"
#include "seatwright/store/sql.hpp"

namespace seatwright::store {

// Written by a program that knows more steps than this one; a sentence.
struct NewerData : std::runtime_error {
    using std::runtime_error::runtime_error;
};

// Written by a program that knows fewer, where this one may not change the tables; a sentence.
struct OlderData : std::runtime_error {
    using std::runtime_error::runtime_error;
};

// Brings the database from whatever step it is at to the newest, all steps in one transaction, while no other
// program does: done whole or not at all. Throws NewerData when the database is ahead of this program. On a
// database server: as the role that owns the tables.
void migrate(Sql& sql, const Dialect& dialect);

// The step the tables are at; 0: there are none, or this role may not read them.
long long step_of(Sql& sql);
// Throws NewerData and OlderData when that is not the newest one this program knows.
void require_newest(Sql& sql);

// Number of the newest step this program knows.
long long newest_migration();
// The step since which entries have digests.
inline constexpr long long chain_step = 5;
// The step since which the texts of jobs and shelf have.
inline constexpr long long text_chain_step = 8;
// The step since which papers that left are kept.
inline constexpr long long issue_step = 15;

}  // namespace seatwright::store
