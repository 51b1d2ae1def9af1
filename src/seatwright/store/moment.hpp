// What the ledger says of a moment that has passed: with which version of its text, of the shelf and of its
// casting a job stood when one of its entries was acknowledged. Nothing that is named here is ever changed or
// erased, so the same numbers come out again.
#pragma once

#include <optional>
#include <string>

#include "seatwright/store/database.hpp"

namespace seatwright::store {

struct Moment {
    long long line = 0;   // of the ledger
    long long at_ms = 0;  // its time
    long long version = 0, shelf = 0;
};

// When the entry of that number was acknowledged; of number 0 and of entries that were imported: when the job
// was made. None: there is no such job or entry.
std::optional<Moment> moment_of(Sql& sql, long long job, long long sequence);
// The text of the casting of that name as it was then.
std::optional<std::string> casting_at(Sql& sql, const std::string& name, const Moment& moment);

}  // namespace seatwright::store
