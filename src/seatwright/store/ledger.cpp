#include "seatwright/store/ledger.hpp"

#include <algorithm>
#include <limits>

#include "seatwright/store/columns.hpp"
#include "seatwright/store/kept_statements.hpp"

namespace seatwright::store {

namespace {

struct InsertLine {
    long long now = 0, id = 0;
    std::string what;
    NullableNumber by, job, version, entry;
    template <class To>
    auto in(To& to) {
        return (to << "insert into ledger (made_ms, made_by, what, job_id, version, entry_id) values (:at, "
                      ":by, :what, :job, :version, :entry) returning id",
                soci::use(now), soci::use(by.value, by.state), soci::use(what),
                soci::use(job.value, job.state), soci::use(version.value, version.state),
                soci::use(entry.value, entry.state), soci::into(id));
    }
};

}  // namespace

void note(Sql& sql, const About& about, const std::string& what) {
    const auto line = KeptStatements::run<InsertLine>(sql, [&](InsertLine& s) {
        s.now = now_ms(), s.what = what;
        s.by = NullableNumber(about.by), s.job = NullableNumber(about.job);
        s.version = NullableNumber(about.version), s.entry = NullableNumber(about.entry);
    });
    sql.wrote_line(line.fields.id);
}

namespace {

// Lines l that `rest` names by its three binds.
std::vector<LedgerLine> select_lines(Sql& sql, const std::string& rest, long long first, long long second,
                                     long long third) {
    LedgerLine line;
    NullableText by;
    NullableNumber of_job, version, entry;
    soci::statement rows =
        (sql.prepare << "select l.id, l.made_ms, p.name, l.what, l.job_id, l.version, l.entry_id from ledger "
                        "l left join person p on p.id = l.made_by where " +
                            rest,
         soci::use(first), soci::use(second), soci::use(third), soci::into(line.id), soci::into(line.at_ms),
         soci::into(by.value, by.state), soci::into(line.what), soci::into(of_job.value, of_job.state),
         soci::into(version.value, version.state), soci::into(entry.value, entry.state));
    std::vector<LedgerLine> all;
    rows.execute();
    while (rows.fetch()) {
        line.by = by.get().value_or("");
        line.job = of_job.get();
        line.version = version.get();
        line.entry = entry.get();
        all.push_back(line);
    }
    return all;
}

}  // namespace

std::vector<LedgerLine> ledger(Database& database, const LedgerQuery& query) {
    const long long before = query.before.value_or(std::numeric_limits<long long>::max());
    const long long limit = std::clamp(query.limit, 1LL, 500LL);
    const std::string which = query.job ? "l.job_id = :job and " : ":job = 0 and ";
    return database.read([&](Sql& sql) {
        return select_lines(sql, which + "l.id < :before order by l.id desc limit :limit",
                            query.job.value_or(0), before, limit);
    });
}

std::vector<LedgerLine> lines_between(Database& database, long long first, long long last) {
    return database.read([&](Sql& sql) {
        return select_lines(sql, "l.id >= :first and l.id <= :last order by l.id limit :most", first, last,
                            last - first + 1);
    });
}

}  // namespace seatwright::store
