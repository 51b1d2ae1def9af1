// The chain of a job's entries. Each entry has a digest over all it is and over the digest of the entry
// before it in its job, made in the transaction that gives it its number: a changed figure, a row taken out
// or put in between shows. SHA-256 (FIPS 180-4).
//
// What no longer fits its digest is never handed out: Damaged says which job and how many of its entries.
// Somebody who can write the database can also write new digests; the chain is against disks, copies and
// mistakes, not against them.
#pragma once

#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

#include "seatwright/store/entry_rows.hpp"

namespace seatwright::store {

// Before a job's first entry.
inline constexpr const char* no_entry_before =
    "0000000000000000000000000000000000000000000000000000000000000000";

// 64 hexadecimal digits. Each field stands with its length, so that no two entries read alike.
std::string digest_of(const EntryFacts& entry, const std::string& before);

// The digest of that entry of the job; of number 0 no_entry_before; none where it has none.
std::optional<std::string> digest_at(Sql& sql, long long job, long long sequence);
void keep_digest(Sql& sql, long long entry, const EntryFacts& facts, const std::string& digest);

// Entries written before there was a chain get theirs.
void chain_what_is_there(Sql& sql);

// What of a job's entries is not as it was stored.
struct Damage {
    long long job = 0;
    long long first = 0;  // number of the first such entry
    long long count = 0;  // how many are such, those that are gone included
    long long of = 0;     // how many the job has
};

// "job 7: 1 of its 40 entries is not as it was stored (entry 12)".
std::string to_words(const Damage& damage);

// Thrown instead of handing out what was not stored so.
class Damaged : public std::runtime_error {
  public:
    explicit Damaged(const Damage& damage);
    explicit Damaged(const std::string& what) : std::runtime_error(what) {}
};

// Walks a job's entries in order: each is held against its digest and the one before it.
class ChainWalk {
  public:
    // From behind that entry. `sql` must outlive it.
    ChainWalk(Sql& sql, long long job, long long after);
    // Whether this is the next and as it was stored; if not, the walk goes on and remembers it.
    bool fits(const EntryRow& entry);
    // After the last entry.
    std::optional<Damage> damage() const;
    // After the last entry. Throws Damaged.
    void end() const;

  private:
    void misses(long long first, long long count);
    Sql& sql_;
    long long job_, sequence_;
    long long count_ = 0;  // entries the job says it has
    Damage found_;
    std::string before_;
};

// Throws Damaged when that one entry is not as it was stored.
void require_sound(Sql& sql, const EntryRow& entry);

// Every entry of one job from behind `after`, or of all jobs.
std::optional<Damage> damage_of(Sql& sql, long long job, long long after = 0);
std::vector<Damage> damage_in(Sql& sql);
// Of the entries with an id above that one alone.
std::vector<Damage> damage_since(Sql& sql, long long entry);

}  // namespace seatwright::store
