// Entries on disk. append() returns only after the entry is committed and fsynced.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/store/database.hpp"
#include "seatwright/store/entry.hpp"
#include "seatwright/store/people.hpp"
#include "seatwright/store/refusal.hpp"

namespace seatwright::store {

struct Appended {
    Entry entry;
    bool again = false;  // it was there already under that client key: nothing was written
};

class Entries {
  public:
    explicit Entries(Database& database) : database_(database) {}

    // Writes the entry with the next sequence number of the job. The same client key with the same content
    // answers what is stored; with another content it is refused as taken. The values are taken as given:
    // store/check.hpp judges them before.
    Answer<Appended> append(const Person& by, long long job, const NewEntry& entry);
    // In order of sequence, those after `after`. All three throw Damaged (store/chain.hpp) instead of handing
    // out or going on from what is not as it was stored.
    std::vector<Entry> list(long long job, long long after = 0);
    std::optional<Entry> one(long long job, long long id);
    // Whether an entry of that client key is on record.
    bool known(long long job, const std::string& client_key);

  private:
    Database& database_;
};

// Where an entry goes: its number, and the digest of the one before it in the job.
struct EntryPlace {
    long long job = 0, sequence = 0, now_ms = 0;
    std::string before;
};

// Writes one entry and its digest inside a transaction of the caller.
Entry insert_entry(Sql& sql, const Person& by, const NewEntry& entry, const EntryPlace& place);

}  // namespace seatwright::store
