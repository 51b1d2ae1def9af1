// Limits a job came in with that are not the shop's: said on the page and on the papers until a lead accepts
// them.
#pragma once

#include <optional>
#include <string>

#include "seatwright/store/database.hpp"
#include "seatwright/store/people.hpp"
#include "seatwright/store/refusal.hpp"

namespace seatwright::store {

// Inside the transaction that makes the job; `words` names them.
void leave_open(Sql& sql, long long job, const std::string& words);

class OpenLimits {
  public:
    explicit OpenLimits(Database& database) : database_(database) {}
    // Which are not the shop's; nothing when all are, or a lead has accepted them.
    std::optional<std::string> of(long long job);
    // Not_found when nothing is open. In the Ledger.
    Answer<bool> accept(const Person& by, long long job);

  private:
    Database& database_;
};

}  // namespace seatwright::store
