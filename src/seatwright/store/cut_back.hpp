// Back to a moment: takes out of a copy of the data all that was recorded after it. The ledger decides: what
// stands in it up to its last line of that moment is kept, in the order it was recorded, so that a clock that
// was set back loses nothing. What has no history (people and their passwords, whose a job is, places,
// feeds) stays as it is in the copy.
#pragma once

#include "seatwright/store/refusal.hpp"
#include "seatwright/store/sql.hpp"

namespace seatwright::store {

// `sql`: a SQLite file of the newest migration that nobody else uses. `until_ms`: since 1970, inclusive.
// Refused when nothing was recorded by then; the file is then as it was.
Answer<bool> cut_back(Sql& sql, long long until_ms);

}  // namespace seatwright::store
