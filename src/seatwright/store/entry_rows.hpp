// Entries as their rows have them. People stand by number, so that a name can change.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "seatwright/store/database.hpp"

namespace seatwright::store {

struct EntryFacts {
    long long job = 0, sequence = 0, made_by = 0, made_ms = 0;
    std::optional<long long> said_ms, corrects;
    bool withdrawn = false, repeat = false;
    std::string client_key, kind, head, valve, content, units, reason;
    std::optional<long long> read_by;
};

struct EntryRow {
    long long id = 0;
    EntryFacts facts;
    std::string by;                     // the name that number has now
    std::string read_by;                // that of read_by; empty where it is nobody
    std::optional<std::string> digest;  // as it was stored (store/chain.hpp)
};

// Which entries: a condition on e, the entry, with :number and :text in this order.
struct Which {
    std::string condition;
    long long number = 0;
    std::string text;
};
inline const Which every_entry{"e.id > :number and :text = ''", 0, {}};
Which entries_after(long long job, long long sequence);
Which entry_of(long long job, long long id);
Which entry_under(long long job, const std::string& client_key);

// Calls `each` for them in order of job and number. No other statement that writes may run meanwhile.
void each_entry(Sql& sql, const Which& which, const std::function<void(const EntryRow&)>& each);
std::optional<EntryRow> first_entry(Sql& sql, const Which& which);

// Every job that has an entry or says it has.
std::vector<long long> jobs_with_entries(Sql& sql);

}  // namespace seatwright::store
