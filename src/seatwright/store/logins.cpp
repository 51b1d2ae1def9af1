// The part of People that checks passwords and keeps logins.
#include <fmt/format.h>

#include <algorithm>

#include "seatwright/store/ledger.hpp"
#include "seatwright/store/passwords.hpp"

namespace seatwright::store {

namespace {

constexpr long long hour_ms = 3'600'000;
constexpr long long longest_login_ms = 30 * 24 * hour_ms;
constexpr long long longest_unused_ms = 12 * hour_ms;  // a shift: a tablet left on a bench locks itself
constexpr long long note_use_every_ms = 5 * 60'000;    // so that reading a page is not a write each time

// A PIN is short: what verdicts and stops hang on asks for the password.
Role role_by_pin(Role own) {
    return std::min(own, Role::machinist);
}

}  // namespace

std::optional<Person> People::check(const std::string& name, const std::string& password) {
    if (password.size() > longest_password) return std::nullopt;
    const auto found = named(name);
    std::string hash;
    if (found)
        database_.read([&](Sql& sql) {
            sql << "select password_hash from person where id = :id", soci::use(found->id), soci::into(hash);
        });
    if (!found) {
        // Nobody of that name: spend the same time, so that names cannot be found out by the clock.
        static_cast<void>(hash_password(password, cost_));
        return std::nullopt;
    }
    if (!password_fits(hash, password) || !found->active) return std::nullopt;
    return found;
}

Answer<long long> People::change_own_password(const Person& person, const std::string& old_password,
                                              const std::string& new_password) {
    if (!check(person.name, old_password)) return refuse(Why::forbidden, "the old password is not right");
    const auto hash = hashed(new_password, person.name);
    if (!hash) return tl::unexpected(hash.error());
    return write([&](Sql& sql) -> Answer<long long> {
        sql << "update person set password_hash = :hash where id = :id", soci::use(*hash),
            soci::use(person.id);
        sql << "delete from login where person_id = :id", soci::use(person.id);
        note(sql, {person.id, {}, {}, {}}, fmt::format("{} chose a new password", person.name));
        return person.id;
    });
}

Login People::log_in(const Person& person, const std::string& address, bool by_pin) {
    Login login{random_hex(32), random_hex(16), person, by_pin};
    if (by_pin) login.person.role = role_by_pin(person.role);
    const std::string hash = token_hash(login.token);
    const long long now = now_ms(), unused = now - longest_unused_ms, short_one = by_pin ? 1 : 0;
    const long long ends = now + (by_pin ? longest_unused_ms : longest_login_ms);
    write([&](Sql& sql) {
        sql << "delete from login where ends_ms < :now or used_ms < :unused", soci::use(now),
            soci::use(unused);
        sql << "insert into login (token_hash, person_id, csrf, made_ms, used_ms, ends_ms, address, by_pin) "
               "values (:hash, :id, :csrf, :now, :used, :ends, :address, :by_pin)",
            soci::use(hash), soci::use(person.id), soci::use(login.csrf), soci::use(now), soci::use(now),
            soci::use(ends), soci::use(address), soci::use(short_one);
        if (!address.empty()) {
            sql << "delete from login_from where person_id = :id and address = :address",
                soci::use(person.id), soci::use(address);
            sql << "insert into login_from (person_id, address, used_ms) values (:id, :address, :now)",
                soci::use(person.id), soci::use(address), soci::use(now);
        }
    });
    return login;
}

std::optional<Login> People::login_of(const std::string& token) {
    const std::string hash = token_hash(token);
    const long long now = now_ms(), unused = now - longest_unused_ms, changes = seen_.changes();
    if (auto seen = seen_.of(hash, now)) return seen;
    long long used = 0;
    const auto login = database_.read([&](Sql& sql) {
        Login row;
        std::string role;
        long long owner = 0, by_pin = 0;
        sql << "select p.id, p.name, p.person_role, p.is_owner, l.csrf, l.used_ms, l.by_pin from login l "
               "join "
               "person p on "
               "p.id = l.person_id where l.token_hash = :hash and l.ends_ms > :now and l.used_ms > :unused "
               "and "
               "p.is_active = 1",
            soci::use(hash), soci::use(now), soci::use(unused), soci::into(row.person.id),
            soci::into(row.person.name), soci::into(role), soci::into(owner), soci::into(row.csrf),
            soci::into(used), soci::into(by_pin);
        if (!sql.got_data()) return std::optional<Login>{};
        row.token = token;
        row.by_pin = by_pin != 0;
        row.person.role = role_named(role).value_or(Role::reader);
        if (row.by_pin) row.person.role = role_by_pin(row.person.role);
        row.person.owner = owner != 0;
        return std::optional<Login>(row);
    });
    if (login) seen_.keep(hash, *login, now, changes);
    if (login && now - used > note_use_every_ms)
        database_.write([&](Sql& sql) {
            sql << "update login set used_ms = :now where token_hash = :hash", soci::use(now),
                soci::use(hash);
        });
    return login;
}

bool People::still_in(const std::string& token) {
    const std::string hash = token_hash(token);
    const long long now = now_ms(), unused = now - longest_unused_ms;
    return database_.read([&](Sql& sql) {
        long long count = 0;
        sql << "select count(*) from login l join person p on p.id = l.person_id where l.token_hash = :hash "
               "and "
               "l.ends_ms > :now and l.used_ms > :unused and p.is_active = 1",
            soci::use(hash), soci::use(now), soci::use(unused), soci::into(count);
        return count > 0;
    });
}

void People::log_out(const std::string& token) {
    const std::string hash = token_hash(token);
    write([&](Sql& sql) { sql << "delete from login where token_hash = :hash", soci::use(hash); });
}

bool People::was_in_from(long long person, const std::string& address) {
    return database_.read([&](Sql& sql) {
        long long count = 0;
        sql << "select count(*) from login_from where person_id = :id and address = :address",
            soci::use(person), soci::use(address), soci::into(count);
        return count > 0;
    });
}

std::string People::login_id(const std::string& token) {
    constexpr std::size_t letters = 16;
    return token_hash(token_hash(token)).substr(0, letters);
}

std::vector<OpenLogin> People::open_logins(long long person) {
    const long long now = now_ms(), unused = now - longest_unused_ms;
    return database_.read([&](Sql& sql) {
        OpenLogin login;
        std::string hash;
        soci::statement rows =
            (sql.prepare
                 << "select token_hash, made_ms, used_ms, address from login where person_id = :id and "
                    "ends_ms > :now and used_ms > :unused order by used_ms desc",
             soci::use(person), soci::use(now), soci::use(unused), soci::into(hash),
             soci::into(login.made_ms), soci::into(login.used_ms), soci::into(login.address));
        std::vector<OpenLogin> all;
        rows.execute();
        while (rows.fetch()) {
            login.id = token_hash(hash).substr(0, login_id({}).size());
            all.push_back(login);
        }
        return all;
    });
}

Answer<bool> People::end_login(const Person& person, const std::string& id) {
    return write([&](Sql& sql) -> Answer<bool> {
        std::string hash, wanted;
        {
            soci::statement rows = (sql.prepare << "select token_hash from login where person_id = :id",
                                    soci::use(person.id), soci::into(hash));
            rows.execute();
            while (rows.fetch())
                if (token_hash(hash).starts_with(id) && id.size() == login_id({}).size()) wanted = hash;
        }
        if (wanted.empty()) return refuse(Why::not_found, "there is no such login");
        sql << "delete from login where token_hash = :hash", soci::use(wanted);
        return true;
    });
}

}  // namespace seatwright::store
