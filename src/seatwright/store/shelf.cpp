#include "seatwright/store/shelf.hpp"

#include <fmt/format.h>

#include "seatwright/store/columns.hpp"
#include "seatwright/store/ledger.hpp"
#include "seatwright/store/text_chain.hpp"

namespace seatwright::store {

namespace {

TextFacts facts_of(const ShelfVersion& v, std::optional<long long> by) {
    return {the_shelf, v.number, v.text, {}, v.at_ms, by, v.what, {}, {}, {}};
}

ShelfVersion newest(Sql& sql) {
    ShelfVersion v;
    NullableText by;
    NullableNumber person;
    sql << "select s.version, s.body, s.made_ms, p.name, s.what, s.made_by from shelf_version s left join "
           "person p on p.id = s.made_by order by s.version desc limit 1",
        soci::into(v.number), soci::into(v.text), soci::into(v.at_ms), soci::into(by.value, by.state),
        soci::into(v.what), soci::into(person.value, person.state);
    v.by = by.get().value_or("");
    if (sql.got_data()) require_text(sql, facts_of(v, person.get()));
    return v;
}

void insert(Sql& sql, const ShelfVersion& v, std::optional<long long> person) {
    NullableNumber by(person);
    sql << "insert into shelf_version (version, body, made_ms, made_by, what) values (:version, :body, :now, "
           ":by, "
           ":what)",
        soci::use(v.number), soci::use(v.text), soci::use(v.at_ms), soci::use(by.value, by.state),
        soci::use(v.what);
    keep_text_digest(sql, facts_of(v, person));
    note(sql, {person, {}, {}, {}}, "the shelf: " + v.what);
}

}  // namespace

void Shelf::stock(const std::string& text) {
    database_.write([&](Sql& sql) {
        if (newest(sql).number == 0)
            insert(sql, {1, text, now_ms(), "", "stocked with the default shop"}, {});
    });
}

ShelfVersion Shelf::current() {
    return database_.read(newest);
}

std::vector<ShelfVersion> Shelf::versions() {
    return database_.read([](Sql& sql) {
        ShelfVersion v;
        NullableText by;
        soci::statement rows =
            (sql.prepare << "select s.version, s.made_ms, p.name, s.what from shelf_version s left "
                            "join person p on p.id = s.made_by order by s.version desc",
             soci::into(v.number), soci::into(v.at_ms), soci::into(by.value, by.state), soci::into(v.what));
        std::vector<ShelfVersion> all;
        rows.execute();
        while (rows.fetch()) {
            v.by = by.get().value_or("");
            all.push_back(v);
        }
        return all;
    });
}

Answer<ShelfVersion> Shelf::change(const Person& by, long long made_on, const std::string& text,
                                   const std::string& what) {
    return database_.write([&](Sql& sql) -> Answer<ShelfVersion> {
        const ShelfVersion now = newest(sql);
        if (now.number != made_on) {
            auto refusal =
                refuse(Why::stale, fmt::format("somebody changed the shelf in the meantime: the change was "
                                               "made on version {}, the store holds version {}",
                                               made_on, now.number));
            refusal.value().version = now.number;
            return refusal;
        }
        const ShelfVersion next{now.number + 1, text, now_ms(), by.name, what};
        insert(sql, next, by.id);
        return next;
    });
}

}  // namespace seatwright::store
