// Who may do what: people with a role, and their logins. Passwords are kept as argon2id (RFC 9106) strings
// made by libsodium; of a login only a hash of its token is kept.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/store/database.hpp"
#include "seatwright/store/logins_seen.hpp"
#include "seatwright/store/refusal.hpp"

namespace seatwright::store {

enum class Role {
    reader,     // looks
    machinist,  // and records readings, makes and changes jobs within the limits
    lead        // and changes limits, the shelf, people, and sets verdicts by word with a reason
};

std::string name_of(Role role);
std::optional<Role> role_named(const std::string& name);

struct Person {
    long long id = 0;
    std::string name;
    Role role = Role::reader;
    bool owner = false;  // the first person; stays an active lead
    bool active = true;
    bool may(Role needed) const { return active && static_cast<int>(role) >= static_cast<int>(needed); }
};

// What one password check costs; the defaults are libsodium's for interactive use (64 MiB).
struct PasswordCost {
    unsigned long long passes = 2;
    std::size_t memory_bytes = 64u << 20;
};

inline constexpr std::size_t longest_person_name = 80;  // bytes
inline constexpr std::size_t least_password = 10;       // characters; NIST SP 800-63B asks for 8 or more
inline constexpr std::size_t longest_password =
    200;  // bytes; a bound, so that hashing costs the same for all

struct Login {
    std::string token;  // for the cookie: 256 random bits, hexadecimal
    std::string csrf;   // the page sends it back with every change
    Person person;
    bool by_pin = false;  // at an enrolled screen: a machinist's rights at most
};

// One open login of a person, without its token.
struct OpenLogin {
    std::string id;  // of its own, tells nothing of the token
    long long made_ms = 0, used_ms = 0;
    std::string address;  // it was made from
};

struct Change {
    std::optional<std::string>
        name;  // entries and versions name people by number: all of them show the new one
    std::optional<Role> role;
    std::optional<std::string> password;
    std::optional<bool> active;
};

class People {
  public:
    People(Database& database, PasswordCost cost) : database_(database), cost_(cost) {}

    bool first_start();  // nobody yet
    // First start only; Why::taken afterwards. Names that look alike are one name; passwords that are guessed
    // first are refused.
    Answer<Person> make_owner(const std::string& name, const std::string& password);
    Answer<Person> add(const Person& by, const std::string& name, Role role, const std::string& password);
    Answer<Person> change(const Person& by, long long id, const Change& change);
    std::vector<Person> all();

    // Who is meant by that name: whose it is, else the one whose it looks like; active or not.
    std::optional<Person> named(const std::string& name);
    // The person when name and password fit and the person is active. Costs the same time for unknown names.
    std::optional<Person> check(const std::string& name, const std::string& password);
    Answer<long long> change_own_password(const Person& person, const std::string& old_password,
                                          const std::string& new_password);

    Login log_in(const Person& person, const std::string& address = {}, bool by_pin = false);
    // Whether that person has logged in from there before.
    bool was_in_from(long long person, const std::string& address);
    // Newest first.
    std::vector<OpenLogin> open_logins(long long person);
    // The id of an OpenLogin of that token.
    static std::string login_id(const std::string& token);
    // Ends that login of the person; not_found when there is none.
    Answer<bool> end_login(const Person& person, const std::string& id);
    // The login of that token if it has not ended (30 days, or 12 hours unused).
    std::optional<Login> login_of(const std::string& token);
    // Whether that login still holds, without counting as use: an open page alone keeps nobody logged in.
    bool still_in(const std::string& token);
    void log_out(const std::string& token);

  private:
    Answer<std::string> hashed(const std::string& password, const std::string& name) const;
    // Nothing when that name is free for that person (0: a new one).
    static std::optional<Refusal> taken(Sql& sql, const std::string& name, long long person);
    Answer<Person> insert(Sql& sql, std::optional<long long> by, const Person& person,
                          const std::string& hash);
    // A write of people or logins: what was seen of logins before it counts no longer.
    template <class Work>
    auto write(Work&& work) {
        struct AtEnd {
            LoginsSeen<Login>& seen;
            ~AtEnd() { seen.forget(); }
        } const at_end{seen_};
        return database_.write(std::forward<Work>(work));
    }
    Database& database_;
    PasswordCost cost_;
    LoginsSeen<Login> seen_;
};

// `bytes` random bytes as hexadecimal text.
std::string random_hex(std::size_t bytes);

}  // namespace seatwright::store
