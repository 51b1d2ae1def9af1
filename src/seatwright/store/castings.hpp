// Castings: what is known of all heads from one mould, one text each (a casting's file, job/casting.hpp) in
// versions that are never changed or erased; which state of which job has taught it; what a job says of its
// head that the casting does not, until a lead accepts or refuses it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/store/database.hpp"
#include "seatwright/store/people.hpp"
#include "seatwright/store/refusal.hpp"

namespace seatwright::store {

struct CastingRow {
    long long id = 0;
    std::string name;  // no other of the shop has it
    long long version = 0;
    long long changed_ms = 0;
    std::string changed_by;  // empty: the program itself
    std::string what;        // the last change was
    std::string text;
};

// The state of a job that a casting has taken in, and what was noticed then, in words.
struct TaughtBy {
    long long job = 0, version = 0, sequence = 0;
    std::string words;
};

// A description that differs from the casting's, by a job.
struct CastingOffer {
    long long id = 0, casting = 0, job = 0, made_ms = 0;
    std::string description;
};

// A job and its text as it now is.
struct JobOfCasting {
    long long id = 0;
    std::string text;
};

class Castings {
  public:
    explicit Castings(Database& database) : database_(database) {}

    Answer<CastingRow> make(const Person& by, const std::string& name, const std::string& text,
                            const std::string& what);
    std::optional<CastingRow> row(long long id);
    std::optional<CastingRow> named(const std::string& name);
    std::vector<CastingRow> rows();  // by name

    // The next text, made on that version, refused as stale otherwise. `by` none: the program itself, taught
    // by a job.
    Answer<CastingRow> change(const std::optional<Person>& by, long long id, long long made_on,
                              const std::string& text, const std::string& what);

    std::vector<TaughtBy> taught_by(long long id);
    void note_taught(long long id, const TaughtBy& by);
    // Jobs whose text may name a casting: it has the word and something given behind it.
    std::vector<JobOfCasting> jobs_that_may_name_one();

    // Undecided ones. The same description of the same job is offered once.
    std::vector<CastingOffer> offers(long long id);
    void offer(long long id, long long job, const std::string& description);
    // False: it was decided before or is none.
    bool decide(const Person& by, long long offer, bool accepted);

  private:
    Database& database_;
};

}  // namespace seatwright::store
