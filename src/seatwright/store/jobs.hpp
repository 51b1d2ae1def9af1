// Jobs as versioned documents. A version is never changed or erased; undo and redo make new versions that
// repeat an older text. The text holds everything but the readings, which are entries (store/entries.hpp).
//
// Every change names the version it was made on; when the store has moved on it is refused as stale with the
// version the store holds now.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "seatwright/store/database.hpp"
#include "seatwright/store/entry.hpp"
#include "seatwright/store/people.hpp"
#include "seatwright/store/refusal.hpp"

namespace seatwright::store {

struct JobRow {
    long long id = 0;
    long long version = 0;
    long long sequence = 0;  // number of the last entry
    bool archived = false;
    long long made_ms = 0, changed_ms = 0;
    std::string changed_by;
    auto operator<=>(const JobRow&) const = default;
};

struct Version {
    long long number = 0;
    std::string text;
    std::optional<std::string> shop_text;  // the job's own shop file; none = the shelf
    long long at_ms = 0;
    std::string by;
    std::string what;
    std::optional<long long> same_as;  // undo or redo: the version whose text it repeats
    std::optional<long long> undo_to, redo_to;
    std::string digest;  // over it and the one before it (store/text_chain.hpp); of one just made
};

struct NewJob {
    std::string text;  // without readings
    std::optional<std::string> shop_text;
    std::string what;                     // "from the example wedge"
    std::optional<std::string> original;  // the file as imported
    std::string original_name;
    std::vector<NewEntry> entries;  // the file's readings
    std::string limits;             // those that wait for a lead to accept them, in words; empty: none
};

struct NewVersion {
    long long made_on = 0;  // the version the change was made on
    std::string text;
    std::string what;
};

// Called now and then with (done, total) while many rows are written; false = stop, nothing is kept.
using Progress = std::function<bool(std::size_t, std::size_t)>;

class Jobs {
  public:
    explicit Jobs(Database& database) : database_(database) {}

    Answer<JobRow> make(const Person& by, const NewJob& job, const Progress& progress = {});
    std::optional<JobRow> row(long long id);
    std::vector<JobRow> rows(bool archived_too);
    Answer<JobRow> archive(const Person& by, long long id, bool archived);

    std::optional<Version> version(long long id, long long number);
    std::vector<Version> versions(long long id);  // newest first, without texts
    Answer<Version> change(const Person& by, long long id, const NewVersion& next);
    Answer<Version> undo(const Person& by, long long id, long long made_on);
    Answer<Version> redo(const Person& by, long long id, long long made_on);
    std::optional<std::string> original(long long id);

  private:
    Answer<Version> noted(long long id, Answer<Version> made);
    Database& database_;
};

}  // namespace seatwright::store
