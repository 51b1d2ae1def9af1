// The second thing a lead may be asked for at login: a code by the clock (store/totp.hpp), or one of ten
// written down, each good once.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/store/database.hpp"
#include "seatwright/store/people.hpp"

namespace seatwright::store {

class SecondFactor {
  public:
    explicit SecondFactor(Database& database) : database_(database) {}

    bool is_on(long long person);
    // A new secret, base 32, that counts once a code of it has been given. Leads only; refused while one is
    // on.
    Answer<std::string> begin(const Person& person);
    // Turns it on; the ten codes to write down, which are not kept themselves.
    Answer<std::vector<std::string>> confirm(const Person& person, const std::string& code, long long now_s);
    // Takes it away, by the person or by a lead for another who has lost it.
    void end(const Person& by, const Person& of);
    // Whether that is the code now, not given before, or one of those written down, which then is used up.
    bool takes(long long person, const std::string& code, long long now_s);

  private:
    Database& database_;
};

}  // namespace seatwright::store
