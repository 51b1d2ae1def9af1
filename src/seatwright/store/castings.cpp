#include "seatwright/store/castings.hpp"

#include <fmt/format.h>

#include "seatwright/store/columns.hpp"
#include "seatwright/store/ledger.hpp"

namespace seatwright::store {

namespace {

// Of the castings `condition` names by its one bind, the newest version each.
template <class Bind>
std::vector<CastingRow> select_castings(Sql& sql, const std::string& condition, const Bind& bind) {
    CastingRow row;
    NullableText by;
    const long long shop = sql.shop();
    soci::statement rows =
        (sql.prepare
             << "select c.id, c.name, c.version, v.made_ms, p.name, v.what, v.body from casting c join "
                "casting_version v on v.shop = c.shop and v.casting_id = c.id and v.version = c.version "
                "left join person p on p.id = v.made_by where c.shop = :shop and " +
                    condition + " order by c.name",
         soci::use(shop), soci::use(bind), soci::into(row.id), soci::into(row.name), soci::into(row.version),
         soci::into(row.changed_ms), soci::into(by.value, by.state), soci::into(row.what),
         soci::into(row.text));
    std::vector<CastingRow> all;
    rows.execute();
    while (rows.fetch()) {
        row.changed_by = by.get().value_or("");
        all.push_back(row);
    }
    return all;
}

template <class Bind>
std::optional<CastingRow> one_casting(Sql& sql, const std::string& condition, const Bind& bind) {
    auto found = select_castings(sql, condition, bind);
    return found.empty() ? std::nullopt : std::optional(std::move(found.front()));
}

void insert_version(Sql& sql, std::optional<long long> person, long long id, long long version,
                    const std::string& text, const std::string& what) {
    const long long shop = sql.shop(), now = now_ms();
    NullableNumber by(person);
    sql << "insert into casting_version (shop, casting_id, version, body, made_ms, made_by, what, line) "
           "select :shop, :id, :version, :body, :now, :by, :what, coalesce(max(id), 0) from ledger",
        soci::use(shop), soci::use(id), soci::use(version), soci::use(text), soci::use(now),
        soci::use(by.value, by.state), soci::use(what);
}

}  // namespace

Answer<CastingRow> Castings::make(const Person& by, const std::string& name, const std::string& text,
                                  const std::string& what) {
    return database_.write([&](Sql& sql) -> Answer<CastingRow> {
        if (one_casting(sql, "c.name = :name", name))
            return refuse(Why::taken,
                          fmt::format("a casting called \"{}\" is known already; give this one another "
                                      "name (casting.name)",
                                      name));
        const long long shop = sql.shop(), version = 1;
        long long id = 0;
        sql << "insert into casting (shop, name, version) values (:shop, :name, :version) returning id",
            soci::use(shop), soci::use(name), soci::use(version), soci::into(id);
        insert_version(sql, by.id, id, version, text, what);
        note(sql, {by.id, {}, {}, {}}, fmt::format("the casting {}: {}", name, what));
        return *one_casting(sql, "c.id = :id", id);
    });
}

std::optional<CastingRow> Castings::row(long long id) {
    return database_.read([&](Sql& sql) { return one_casting(sql, "c.id = :id", id); });
}

std::optional<CastingRow> Castings::named(const std::string& name) {
    return database_.read([&](Sql& sql) { return one_casting(sql, "c.name = :name", name); });
}

std::vector<CastingRow> Castings::rows() {
    return database_.read([&](Sql& sql) { return select_castings(sql, "c.id > :least", 0LL); });
}

Answer<CastingRow> Castings::change(const std::optional<Person>& by, long long id, long long made_on,
                                    const std::string& text, const std::string& what) {
    return database_.write([&](Sql& sql) -> Answer<CastingRow> {
        const auto now = one_casting(sql, "c.id = :id", id);
        if (!now) return refuse(Why::not_found, "there is no such casting");
        if (now->version != made_on) {
            auto refusal = refuse(Why::stale, "somebody changed this casting in the meantime");
            refusal.value().version = now->version;
            return refusal;
        }
        const long long shop = sql.shop(), next = made_on + 1;
        const auto person = by ? std::optional(by->id) : std::nullopt;
        insert_version(sql, person, id, next, text, what);
        sql << "update casting set version = :version where shop = :shop and id = :id", soci::use(next),
            soci::use(shop), soci::use(id);
        note(sql, {person, {}, {}, {}}, fmt::format("the casting {}: {}", now->name, what));
        return *one_casting(sql, "c.id = :id", id);
    });
}

std::vector<TaughtBy> Castings::taught_by(long long id) {
    return database_.read([&](Sql& sql) {
        TaughtBy t;
        const long long shop = sql.shop();
        soci::statement rows =
            (sql.prepare << "select job_id, version, sequence, words from casting_taught where "
                            "shop = :shop and casting_id = :id order by job_id",
             soci::use(shop), soci::use(id), soci::into(t.job), soci::into(t.version), soci::into(t.sequence),
             soci::into(t.words));
        std::vector<TaughtBy> all;
        rows.execute();
        while (rows.fetch()) all.push_back(t);
        return all;
    });
}

void Castings::note_taught(long long id, const TaughtBy& by) {
    database_.write([&](Sql& sql) {
        const long long shop = sql.shop();
        sql << "delete from casting_taught where shop = :shop and casting_id = :id and job_id = :job",
            soci::use(shop), soci::use(id), soci::use(by.job);
        sql << "insert into casting_taught (shop, casting_id, job_id, version, sequence, words) values "
               "(:shop, :id, "
               ":job, :version, :sequence, :words)",
            soci::use(shop), soci::use(id), soci::use(by.job), soci::use(by.version), soci::use(by.sequence),
            soci::use(by.words);
    });
}

std::vector<JobOfCasting> Castings::jobs_that_may_name_one() {
    return database_.read([&](Sql& sql) {
        JobOfCasting job;
        const std::string like = "%casting%=%";
        soci::statement rows =
            (sql.prepare << "select j.id, v.body from job j join job_version v on v.job_id = j.id and "
                            "v.version = j.version where v.body like :pattern order by j.id",
             soci::use(like), soci::into(job.id), soci::into(job.text));
        std::vector<JobOfCasting> all;
        rows.execute();
        while (rows.fetch()) all.push_back(job);
        return all;
    });
}

std::vector<CastingOffer> Castings::offers(long long id) {
    return database_.read([&](Sql& sql) {
        CastingOffer o;
        const long long shop = sql.shop();
        soci::statement rows =
            (sql.prepare << "select id, casting_id, job_id, made_ms, body from casting_offer "
                            "where shop = :shop and casting_id = :casting and decision = '' "
                            "order by id",
             soci::use(shop), soci::use(id), soci::into(o.id), soci::into(o.casting), soci::into(o.job),
             soci::into(o.made_ms), soci::into(o.description));
        std::vector<CastingOffer> all;
        rows.execute();
        while (rows.fetch()) all.push_back(o);
        return all;
    });
}

void Castings::offer(long long id, long long job, const std::string& description) {
    database_.write([&](Sql& sql) {
        const long long shop = sql.shop(), now = now_ms();
        long long known = 0;
        sql << "select count(*) from casting_offer where shop = :shop and casting_id = :casting and job_id = "
               ":job "
               "and body = :body",
            soci::use(shop), soci::use(id), soci::use(job), soci::use(description), soci::into(known);
        if (known > 0) return;
        sql << "insert into casting_offer (shop, casting_id, job_id, made_ms, body, decision) values (:shop, "
               ":casting, :job, :now, :body, '')",
            soci::use(shop), soci::use(id), soci::use(job), soci::use(now), soci::use(description);
    });
}

bool Castings::decide(const Person& by, long long offer, bool accepted) {
    return database_.write([&](Sql& sql) {
        const long long shop = sql.shop();
        long long open = 0, job = 0;
        sql << "select count(*), coalesce(max(job_id), 0) from casting_offer where shop = :shop and id = :id "
               "and "
               "decision = ''",
            soci::use(shop), soci::use(offer), soci::into(open), soci::into(job);
        if (open == 0) return false;
        const std::string word = accepted ? "accepted" : "refused";
        sql << "update casting_offer set decision = :word where shop = :shop and id = :id", soci::use(word),
            soci::use(shop), soci::use(offer);
        note(sql, {by.id, job, {}, {}}, word + of_its_casting);
        return true;
    });
}

}  // namespace seatwright::store
