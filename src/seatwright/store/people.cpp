#include "seatwright/store/people.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "seatwright/store/columns.hpp"
#include "seatwright/store/guessed_first.hpp"
#include "seatwright/store/ledger.hpp"
#include "seatwright/store/names.hpp"
#include "seatwright/store/passwords.hpp"

namespace seatwright::store {

namespace {

constexpr std::array<const char*, 3> role_names{"reader", "machinist", "lead"};
constexpr const char* person_columns = "p.id, p.name, p.person_role, p.is_owner, p.is_active";

// A row of person_columns.
struct PersonRow {
    Person person;
    std::string role;
    long long owner = 0, active = 0;

    Person get() const {
        Person p = person;
        p.role = role_named(role).value_or(Role::reader);
        p.owner = owner != 0;
        p.active = active != 0;
        return p;
    }
};

std::optional<Person> person_by_id(Sql& sql, long long id) {
    PersonRow row;
    sql << fmt::format("select {} from person p where p.id = :id", person_columns), soci::use(id),
        soci::into(row.person.id), soci::into(row.person.name), soci::into(row.role), soci::into(row.owner),
        soci::into(row.active);
    return sql.got_data() ? std::optional<Person>(row.get()) : std::nullopt;
}

// Characters, not bytes: UTF-8 continuation bytes do not count.
std::size_t characters(const std::string& text) {
    return static_cast<std::size_t>(std::count_if(
        text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0) != 0x80; }));
}

std::optional<std::string> fault_of_name(const std::string& name) {
    if (name.empty() || name.size() > longest_person_name || name.front() == ' ' || name.back() == ' ')
        return fmt::format("a name has 1 to {} characters and no blanks at its ends", longest_person_name);
    const bool control =
        std::any_of(name.begin(), name.end(), [](char c) { return static_cast<unsigned char>(c) < 32; });
    if (control) return "a name has no control characters";
    return std::nullopt;
}

}  // namespace

std::string name_of(Role role) {
    return role_names[static_cast<std::size_t>(role)];
}

std::optional<Role> role_named(const std::string& name) {
    for (std::size_t i = 0; i < role_names.size(); ++i)
        if (name == role_names[i]) return static_cast<Role>(i);
    return std::nullopt;
}

Answer<std::string> People::hashed(const std::string& password, const std::string& name) const {
    if (characters(password) < least_password)
        return refuse(Why::bad,
                      fmt::format("a password needs at least {} characters; a few plain words do well",
                                  least_password));
    if (password.size() > longest_password)
        return refuse(Why::bad, fmt::format("a password has at most {} bytes", longest_password));
    if (const auto fault = guessed_first(password, name)) return refuse(Why::bad, *fault);
    return hash_password(password, cost_);
}

std::optional<Refusal> People::taken(Sql& sql, const std::string& name, long long person) {
    long long id = 0;
    std::string other;
    soci::statement rows =
        (sql.prepare << "select id, name from person order by id", soci::into(id), soci::into(other));
    rows.execute();
    while (rows.fetch())
        if (id != person && look_alike(name, other))
            return refuse(Why::taken,
                          other == name
                              ? fmt::format("there is already a person named {}", name)
                              : fmt::format("{} would be taken for {}, who is there already", name, other))
                .value();
    return std::nullopt;
}

Answer<Person> People::insert(Sql& sql, std::optional<long long> by, const Person& person,
                              const std::string& hash) {
    if (auto refusal = taken(sql, person.name, 0)) return tl::unexpected(std::move(*refusal));
    const std::string role = name_of(person.role);
    const long long owner = person.owner ? 1 : 0, active = 1, now = now_ms();
    long long id = 0;
    sql << "insert into person (name, person_role, is_owner, is_active, password_hash, made_ms) values "
           "(:name, "
           ":role, :owner, :active, :hash, :now) returning id",
        soci::use(person.name), soci::use(role), soci::use(owner), soci::use(active), soci::use(hash),
        soci::use(now), soci::into(id);
    note(sql, {by ? by : std::optional<long long>(id), {}, {}, {}},
         fmt::format("made {} {}", person.owner ? "the owner" : "a " + role, of_person(id)));
    Person made = person;
    made.id = id;
    return made;
}

bool People::first_start() {
    return database_.read([](Sql& sql) {
        long long count = 0;
        sql << "select count(*) from person", soci::into(count);
        return count == 0;
    });
}

Answer<Person> People::make_owner(const std::string& name, const std::string& password) {
    // Asked before the costly part, since anybody may ask; and again where nobody can come between.
    const auto taken = refuse(Why::taken, "there is an owner already; log in");
    if (!first_start()) return taken;
    if (const auto fault = fault_of_name(name)) return refuse(Why::bad, *fault);
    const auto hash = hashed(password, name);
    if (!hash) return tl::unexpected(hash.error());
    return write([&](Sql& sql) -> Answer<Person> {
        long long count = 0;
        sql << "select count(*) from person", soci::into(count);
        if (count > 0) return taken;
        return insert(sql, {}, Person{0, name, Role::lead, true, true}, *hash);
    });
}

Answer<Person> People::add(const Person& by, const std::string& name, Role role,
                           const std::string& password) {
    if (const auto fault = fault_of_name(name)) return refuse(Why::bad, *fault);
    const auto hash = hashed(password, name);
    if (!hash) return tl::unexpected(hash.error());
    return write([&](Sql& sql) { return insert(sql, by.id, Person{0, name, role, false, true}, *hash); });
}

Answer<Person> People::change(const Person& by, long long id, const Change& change) {
    std::optional<std::string> hash;
    if (change.name)
        if (const auto fault = fault_of_name(*change.name)) return refuse(Why::bad, *fault);
    if (change.password) {
        const auto made = hashed(*change.password, change.name.value_or(""));
        if (!made) return tl::unexpected(made.error());
        hash = *made;
    }
    return write([&](Sql& sql) -> Answer<Person> {
        auto person = person_by_id(sql, id);
        if (!person) return refuse(Why::not_found, "there is no such person");
        if (person->owner &&
            (change.role.value_or(Role::lead) != Role::lead || !change.active.value_or(true)))
            return refuse(Why::bad, "the owner stays an active lead");
        if (person->owner && hash && by.id != id)
            return refuse(Why::forbidden, "only the owner changes the owner's password");
        if (change.name && *change.name != person->name) {
            if (person->owner && by.id != id)
                return refuse(Why::forbidden, "only the owner changes the owner's name");
            if (auto refusal = taken(sql, *change.name, id)) return tl::unexpected(std::move(*refusal));
            sql << "update person set name = :name where id = :id", soci::use(*change.name), soci::use(id);
            note(sql, {by.id, {}, {}, {}}, of_person(id) + another_name);
            person->name = *change.name;
        }
        person->role = change.role.value_or(person->role);
        person->active = change.active.value_or(person->active);
        const std::string role = name_of(person->role);
        const long long active = person->active ? 1 : 0;
        sql << "update person set person_role = :role, is_active = :active where id = :id", soci::use(role),
            soci::use(active), soci::use(id);
        if (hash)
            sql << "update person set password_hash = :hash where id = :id", soci::use(*hash), soci::use(id);
        // Whoever was logged in under the old password, or is no longer active, is out at once.
        if (hash || !person->active) sql << "delete from login where person_id = :id", soci::use(id);
        note(sql, {by.id, {}, {}, {}},
             fmt::format("changed {}: {}{}{}", of_person(id), role,
                         person->active ? "" : ", no longer active", hash ? ", new password" : ""));
        return *person;
    });
}

std::optional<Person> People::named(const std::string& name) {
    if (name.size() > longest_person_name) return std::nullopt;
    const std::vector<Person> everybody = all();
    for (const Person& person : everybody)
        if (person.name == name) return person;
    for (const Person& person : everybody)
        if (look_alike(person.name, name)) return person;
    return std::nullopt;
}

std::vector<Person> People::all() {
    return database_.read([](Sql& sql) {
        PersonRow row;
        soci::statement rows =
            (sql.prepare << fmt::format("select {} from person p order by p.name", person_columns),
             soci::into(row.person.id), soci::into(row.person.name), soci::into(row.role),
             soci::into(row.owner), soci::into(row.active));
        std::vector<Person> everybody;
        rows.execute();
        while (rows.fetch()) everybody.push_back(row.get());
        return everybody;
    });
}

}  // namespace seatwright::store
