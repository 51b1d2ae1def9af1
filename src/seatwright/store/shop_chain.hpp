// One digest over every job's last entry, made each hour and at each backup, each over the one before it:
// what a whole job taken out, or put back to an older day by itself, shows against.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/store/database.hpp"

namespace seatwright::store {

struct ShopDigest {
    long long id = 0, made_ms = 0;
    long long last_entry = 0;  // the newest entry's id then
    long long jobs = 0, entries = 0;
    std::string jobs_digest, digest;
};

std::optional<ShopDigest> newest_shop_digest(Sql& sql);

// Writes the next one when entries have come since the last; inside a transaction of the caller.
void chain_shop(Sql& sql);

// A sentence for what does not agree with the digests made so far: a line of them, or the jobs as they were
// at the newest.
std::vector<std::string> damage_of_shop_chain(Sql& sql);

}  // namespace seatwright::store
