// Change of person at the machine: screens a lead has enrolled, and at these a name and a PIN of 4 to 6
// digits in place of a password. A PIN gives a machinist's rights at most; after five wrong ones it counts no
// more until its person has logged in with the password. Kept as argon2id, like passwords; a PIN is short, so
// it is taken at enrolled screens alone.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/store/database.hpp"
#include "seatwright/store/people.hpp"
#include "seatwright/store/refusal.hpp"

namespace seatwright::store {

struct Screen {
    long long id = 0;
    std::string name;  // "mill 2"
    long long made_ms = 0;
    std::string made_by;
};

inline constexpr int most_wrong_pins = 5;

enum class PinTaken {
    right,
    wrong,
    none,          // that person has none
    password_only  // too many wrong ones: the password first
};

class Screens {
  public:
    Screens(Database& database, PasswordCost cost) : database_(database), cost_(cost) {}

    // The token for the screen's cookie: 256 random bits, hexadecimal.
    Answer<std::string> enroll(const Person& by, const std::string& name);
    std::vector<Screen> all();
    std::optional<Screen> of(const std::string& token);
    Answer<bool> end(const Person& by, long long id);

    // Refused: not 4 to 6 digits, or one that is tried first (1234, 0000).
    Answer<bool> set_pin(const Person& person, const std::string& pin);
    void take_pin_away(const Person& by, const Person& of);
    bool has_pin(long long person);
    std::vector<std::string> names();  // of active people that have one, by name
    // Counts a wrong one before it is told.
    PinTaken take(long long person, const std::string& pin);
    // After a login with the password.
    void forgive(long long person);

  private:
    Database& database_;
    PasswordCost cost_;
};

}  // namespace seatwright::store
