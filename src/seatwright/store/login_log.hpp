// Who came in, who was refused, what was locked: for a lead to look through. No passwords, no codes; a name
// that is nobody's is not kept, since it may be a password typed into the wrong field.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/store/database.hpp"

namespace seatwright::store {

struct LoginLine {
    long long id = 0, at_ms = 0;
    std::string what;     // "logged in", "refused: wrong password", …
    std::string name;     // empty: of nobody here
    std::string address;  // it came from
};

class LoginLog {
  public:
    explicit LoginLog(Database& database) : database_(database) {}
    void note(const std::string& what, std::optional<long long> person, const std::string& address);
    // Newest first, older than the line `before` if given.
    std::vector<LoginLine> lines(std::optional<long long> before, long long limit);

  private:
    Database& database_;
};

}  // namespace seatwright::store
