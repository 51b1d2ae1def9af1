#include "seatwright/store/ledger.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <limits>
#include <map>
#include <string_view>

#include "seatwright/store/columns.hpp"
#include "seatwright/store/kept_statements.hpp"

namespace seatwright::store {

std::string of_person(long long id) {
    return fmt::format("{{person {}}}", id);
}

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

constexpr std::string_view person_mark = "{person ";

// Marks of of_person() become names; of somebody who is not there the number stays.
void say_names(Sql& sql, std::vector<LedgerLine>& lines) {
    const auto marked = [](const LedgerLine& line) {
        return line.what.find(person_mark) != std::string::npos;
    };
    if (std::none_of(lines.begin(), lines.end(), marked)) return;
    std::map<std::string, std::string> names;
    long long id = 0;
    std::string name;
    soci::statement persons =
        (sql.prepare << "select id, name from person", soci::into(id), soci::into(name));
    persons.execute();
    while (persons.fetch()) names.emplace(of_person(id), name);
    for (LedgerLine& line : lines)
        for (auto at = line.what.find(person_mark); at != std::string::npos;
             at = line.what.find(person_mark, at + 1)) {
            const auto end = line.what.find('}', at);
            if (end == std::string::npos) break;
            const auto found = names.find(line.what.substr(at, end + 1 - at));
            if (found != names.end()) line.what.replace(at, end + 1 - at, found->second);
        }
}

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
    say_names(sql, all);
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
