// A copy of the data while the workbench runs, and back. A backup is one file: the whole database as of one
// moment, checked after it was written.
#pragma once

#include <string>
#include <vector>

#include "seatwright/store/refusal.hpp"

namespace seatwright::store {

// What a sound data file holds.
struct Contents {
    long long jobs = 0, versions = 0, entries = 0, ledger_lines = 0, people = 0;
    long long migration = 0;
    std::string record;               // the newest digest over every job's last entry (store/shop_chain.hpp)
    std::vector<std::string> damage;  // a sentence for each job that is not as it was stored
    bool operator==(const Contents&) const = default;
};

// "jobs 12, versions 40, entries 812, …"; without the damage.
std::string to_words(const Contents& contents);

// The file of a data folder.
std::string database_file(const std::string& folder);

// Opens `file` for reading only: the database's own integrity check, its foreign keys, every entry against
// its digest, and what it holds. Damaged entries are no refusal: the other jobs are good.
Answer<Contents> inspect(const std::string& file);

// Writes the data of `folder` as the file `out`, also while a server runs on it. `out` must not exist; it
// appears whole, flushed to disk and inspected, or not at all.
Answer<Contents> backup(const std::string& folder, const std::string& out);

// Puts a backup into `folder`, which must not hold data yet nor what other data left beside it (nothing is
// ever overwritten), and inspects it before it appears there. A file a server works on will do too: what
// stands in its log is read with it.
Answer<Contents> restore(const std::string& from, const std::string& folder);

// The same with all that was recorded until that moment, since 1970, and nothing of what came later
// (store/cut_back.hpp).
Answer<Contents> restore_until(const std::string& from, const std::string& folder, long long until_ms);

}  // namespace seatwright::store
