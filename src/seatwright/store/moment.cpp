#include "seatwright/store/moment.hpp"

#include <fmt/format.h>

#include "seatwright/store/columns.hpp"
#include "seatwright/store/ledger.hpp"

namespace seatwright::store {

namespace {

// The first line that names the entry; none: it came with the job.
std::optional<long long> line_of_entry(Sql& sql, long long job, long long sequence) {
    NullableNumber line;
    sql << "select min(l.id) from ledger l join entry e on e.id = l.entry_id where e.job_id = :job and "
           "e.sequence = :sequence",
        soci::use(job), soci::use(sequence), soci::into(line.value, line.state);
    return line.get();
}

std::optional<long long> line_of_job(Sql& sql, long long job) {
    NullableNumber line;
    sql << "select min(id) from ledger where job_id = :job", soci::use(job),
        soci::into(line.value, line.state);
    return line.get();
}

}  // namespace

std::optional<Moment> moment_of(Sql& sql, long long job, long long sequence) {
    long long newest = -1;
    sql << "select sequence from job where id = :job", soci::use(job), soci::into(newest);
    if (!sql.got_data() || sequence < 0 || sequence > newest) return std::nullopt;
    auto line = line_of_entry(sql, job, sequence);
    if (!line) line = line_of_job(sql, job);
    if (!line) return std::nullopt;
    Moment moment;
    moment.line = *line;
    sql << "select made_ms from ledger where id = :line", soci::use(moment.line), soci::into(moment.at_ms);
    sql << "select coalesce(max(v.version), 0) from (select version, min(id) as line from ledger where "
           "job_id "
           "= :job and version is not null group by version) v where v.line <= :line",
        soci::use(job), soci::use(moment.line), soci::into(moment.version);
    sql << fmt::format("select count(*) from ledger where job_id is null and what like '{}%' and id <= :line",
                       shelf_line),
        soci::use(moment.line), soci::into(moment.shelf);
    return moment;
}

std::optional<std::string> casting_at(Sql& sql, const std::string& name, const Moment& moment) {
    std::string text;
    sql << "select v.body from casting c join casting_version v on v.shop = c.shop and v.casting_id = c.id "
           "where c.name = :name and case when v.line is null then v.made_ms <= :at else v.line < :line end "
           "order by v.version desc limit 1",
        soci::use(name), soci::use(moment.at_ms), soci::use(moment.line), soci::into(text);
    return sql.got_data() ? std::optional(text) : std::nullopt;
}

}  // namespace seatwright::store
