// The Ledger: who recorded or changed what, when. Written in the same transaction as the change itself;
// append-only.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/store/database.hpp"

namespace seatwright::store {

struct LedgerLine {
    long long id = 0;
    long long at_ms = 0;
    std::string by;  // empty = the program itself
    std::string what;
    std::optional<long long> job, version, entry;
};

// What a line is about; by = person id.
struct About {
    std::optional<long long> by, job, version, entry;
};

// What stands in lines that are read again (store/cut_back.hpp, store/moment.hpp).
inline constexpr const char* shelf_line = "the shelf: ";  // begins one for each of its versions
inline constexpr const char* put_away_line = "put the job away";
inline constexpr const char* taken_out_line = "took the job out again";
inline constexpr const char* another_name = " has another name now";
inline constexpr const char* of_its_casting = " what the job says of its casting";

void note(Sql& sql, const About& about, const std::string& what);

// A person in the words of a line: stored by number, read as the name they have then, so that a name can be
// changed or erased though lines never change.
std::string of_person(long long id);

struct LedgerQuery {
    std::optional<long long> job;
    std::optional<long long> before;  // older than this line
    long long limit = 100;
};

// Newest first.
std::vector<LedgerLine> ledger(Database& database, const LedgerQuery& query);
// Oldest first, both of them too.
std::vector<LedgerLine> lines_between(Database& database, long long first, long long last);

}  // namespace seatwright::store
