#include "seatwright/store/screens.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "seatwright/store/ledger.hpp"
#include "seatwright/store/passwords.hpp"

namespace seatwright::store {

namespace {

constexpr std::size_t least_pin = 4, longest_pin = 6, longest_name = 40, token_bytes = 32;

bool is_pin(const std::string& pin) {
    return pin.size() >= least_pin && pin.size() <= longest_pin &&
           std::all_of(pin.begin(), pin.end(), [](char c) { return c >= '0' && c <= '9'; });
}

// All alike, or counting up or down: what is tried first (common practice).
bool is_tried_first(const std::string& pin) {
    const auto steps_by = [&](int step) {
        for (std::size_t i = 1; i < pin.size(); ++i)
            if (pin[i] - pin[i - 1] != step) return false;
        return true;
    };
    return steps_by(0) || steps_by(1) || steps_by(-1);
}

}  // namespace

Answer<std::string> Screens::enroll(const Person& by, const std::string& name) {
    const bool control =
        std::any_of(name.begin(), name.end(), [](char c) { return static_cast<unsigned char>(c) < 32; });
    if (name.empty() || name.size() > longest_name || control)
        return refuse(Why::bad,
                      fmt::format("a screen has a name of 1 to {} characters, such as mill 2", longest_name));
    const std::string token = random_hex(token_bytes), hash = token_hash(token);
    return database_.write([&](Sql& sql) -> Answer<std::string> {
        const long long now = now_ms();
        sql << "insert into screen (token_hash, name, made_ms, made_by) values (:hash, :name, :now, :by)",
            soci::use(hash), soci::use(name), soci::use(now), soci::use(by.id);
        note(sql, {by.id, {}, {}, {}}, "enrolled the screen " + name);
        return token;
    });
}

std::vector<Screen> Screens::all() {
    return database_.read([](Sql& sql) {
        Screen one;
        soci::statement rows =
            (sql.prepare << "select s.id, s.name, s.made_ms, p.name from screen s join person p on p.id = "
                            "s.made_by order by s.id",
             soci::into(one.id), soci::into(one.name), soci::into(one.made_ms), soci::into(one.made_by));
        std::vector<Screen> all;
        rows.execute();
        while (rows.fetch()) all.push_back(one);
        return all;
    });
}

std::optional<Screen> Screens::of(const std::string& token) {
    const std::string hash = token_hash(token);
    return database_.read([&](Sql& sql) -> std::optional<Screen> {
        Screen one;
        sql << "select s.id, s.name, s.made_ms, p.name from screen s join person p on p.id = s.made_by where "
               "s.token_hash = :hash",
            soci::use(hash), soci::into(one.id), soci::into(one.name), soci::into(one.made_ms),
            soci::into(one.made_by);
        return sql.got_data() ? std::optional(one) : std::nullopt;
    });
}

Answer<bool> Screens::end(const Person& by, long long id) {
    return database_.write([&](Sql& sql) -> Answer<bool> {
        std::string name;
        sql << "select name from screen where id = :id", soci::use(id), soci::into(name);
        if (!sql.got_data()) return refuse(Why::not_found, "there is no such screen");
        sql << "delete from screen where id = :id", soci::use(id);
        note(sql, {by.id, {}, {}, {}}, "no longer takes PINs at the screen " + name);
        return true;
    });
}

Answer<bool> Screens::set_pin(const Person& person, const std::string& pin) {
    if (!is_pin(pin))
        return refuse(Why::bad, fmt::format("a PIN has {} to {} digits", least_pin, longest_pin));
    if (is_tried_first(pin))
        return refuse(Why::bad, "that PIN is among those that are tried first; take another");
    const auto hash = hash_password(pin, cost_);
    if (!hash) return tl::unexpected(hash.error());
    return database_.write([&](Sql& sql) -> Answer<bool> {
        const long long now = now_ms();
        sql << "delete from pin where person_id = :id", soci::use(person.id);
        sql << "insert into pin (person_id, hash, wrong, made_ms) values (:id, :hash, 0, :now)",
            soci::use(person.id), soci::use(*hash), soci::use(now);
        note(sql, {person.id, {}, {}, {}}, of_person(person.id) + " chose a PIN");
        return true;
    });
}

void Screens::take_pin_away(const Person& by, const Person& of) {
    database_.write([&](Sql& sql) {
        sql << "delete from pin where person_id = :id", soci::use(of.id);
        note(sql, {by.id, {}, {}, {}}, "took away the PIN of " + of_person(of.id));
    });
}

bool Screens::has_pin(long long person) {
    return database_.read([&](Sql& sql) {
        long long count = 0;
        sql << "select count(*) from pin where person_id = :id", soci::use(person), soci::into(count);
        return count > 0;
    });
}

std::vector<std::string> Screens::names() {
    return database_.read([](Sql& sql) {
        std::string name;
        soci::statement rows = (sql.prepare << "select p.name from pin n join person p on p.id = n.person_id "
                                               "where p.is_active = 1 order by p.name",
                                soci::into(name));
        std::vector<std::string> all;
        rows.execute();
        while (rows.fetch()) all.push_back(name);
        return all;
    });
}

PinTaken Screens::take(long long person, const std::string& pin) {
    std::string hash;
    long long wrong = 0;
    database_.write([&](Sql& sql) {
        sql << "select hash, wrong from pin where person_id = :id", soci::use(person), soci::into(hash),
            soci::into(wrong);
        if (!sql.got_data()) hash.clear();
        // Counted as wrong until it has been found right: tries that come at once do not share a count.
        if (!hash.empty() && wrong < most_wrong_pins)
            sql << "update pin set wrong = wrong + 1 where person_id = :id", soci::use(person);
    });
    if (hash.empty()) return PinTaken::none;
    if (wrong >= most_wrong_pins) return PinTaken::password_only;
    if (!is_pin(pin) || !password_fits(hash, pin))
        return wrong + 1 >= most_wrong_pins ? PinTaken::password_only : PinTaken::wrong;
    forgive(person);
    return PinTaken::right;
}

void Screens::forgive(long long person) {
    database_.write(
        [&](Sql& sql) { sql << "update pin set wrong = 0 where person_id = :id", soci::use(person); });
}

}  // namespace seatwright::store
