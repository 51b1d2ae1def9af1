// Programs that left for a machine: which file of a job somebody took, when, with which bytes. From the first
// on the head's drawing data are a lead's to change. Append-only.
#pragma once

#include <optional>
#include <string>

#include "seatwright/store/database.hpp"
#include "seatwright/store/people.hpp"

namespace seatwright::store {

struct TakenProgram {
    std::string file;    // "program-7-A-1.ngc"
    std::string sha256;  // of its bytes, 64 hexadecimal digits
    std::string by;
    long long at_ms = 0;
};

class Taken {
  public:
    explicit Taken(Database& database) : database_(database) {}

    // Notes it, and in the Ledger; the same bytes under the same name are noted once a person.
    void note(const Person& by, long long job, const std::string& file, const std::string& sha256);
    // The first of the job, if any was taken.
    std::optional<TakenProgram> first(long long job);

  private:
    Database& database_;
};

}  // namespace seatwright::store
