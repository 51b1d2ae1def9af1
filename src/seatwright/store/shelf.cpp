#include "seatwright/store/shelf.hpp"

#include <fmt/format.h>

#include <limits>

#include "seatwright/store/columns.hpp"
#include "seatwright/store/last_digests.hpp"
#include "seatwright/store/ledger.hpp"
#include "seatwright/store/text_chain.hpp"

namespace seatwright::store {

namespace {

TextFacts facts_of(const ShelfVersion& v, std::optional<long long> by) {
    return {the_shelf, v.number, v.text, {}, v.at_ms, by, v.what, {}, {}, {}};
}

// The newest of those up to that number; number 0 where there is none.
ShelfVersion select_shelf(Sql& sql, long long most) {
    ShelfVersion v;
    NullableText by;
    NullableNumber person;
    sql << "select s.version, s.body, s.made_ms, p.name, s.what, s.made_by from shelf_version s left join "
           "person p on p.id = s.made_by where s.version <= :most order by s.version desc limit 1",
        soci::use(most), soci::into(v.number), soci::into(v.text), soci::into(v.at_ms),
        soci::into(by.value, by.state), soci::into(v.what), soci::into(person.value, person.state);
    v.by = by.get().value_or("");
    if (sql.got_data()) require_text(sql, facts_of(v, person.get()));
    return v;
}

ShelfVersion newest(Sql& sql) {
    return select_shelf(sql, std::numeric_limits<long long>::max());
}

// Its digest.
std::string insert(Sql& sql, const ShelfVersion& v, std::optional<long long> person) {
    NullableNumber by(person);
    sql << "insert into shelf_version (version, body, made_ms, made_by, what) values (:version, :body, :now, "
           ":by, "
           ":what)",
        soci::use(v.number), soci::use(v.text), soci::use(v.at_ms), soci::use(by.value, by.state),
        soci::use(v.what);
    note(sql, {person, {}, {}, {}}, shelf_line + v.what);
    return keep_text_digest(sql, facts_of(v, person));
}

}  // namespace

void Shelf::stock(const std::string& text) {
    std::string digest;
    database_.write([&](Sql& sql) {
        if (newest(sql).number == 0)
            digest = insert(sql, {1, text, now_ms(), "", "stocked with the default shop"}, {});
    });
    if (!digest.empty()) database_.last().note_text(the_shelf, 1, digest);
}

ShelfVersion Shelf::current() {
    database_.last().require_whole(the_shelf);
    return database_.read(newest);
}

std::optional<ShelfVersion> Shelf::version(long long number) {
    auto v = database_.read([&](Sql& sql) { return select_shelf(sql, number); });
    return v.number == number ? std::optional(std::move(v)) : std::nullopt;
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
    std::string digest;
    auto made = database_.write([&](Sql& sql) -> Answer<ShelfVersion> {
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
        digest = insert(sql, next, by.id);
        return next;
    });
    if (made) database_.last().note_text(the_shelf, made->number, digest);
    return made;
}

}  // namespace seatwright::store
