#include "seatwright/store/entry_rows.hpp"

#include <fmt/format.h>

#include "seatwright/store/columns.hpp"

namespace seatwright::store {

Which entries_after(long long job, long long sequence) {
    return {fmt::format("e.job_id = :number and e.sequence > {} and :text = ''", sequence), job, {}};
}

Which entry_of(long long job, long long id) {
    return {fmt::format("e.job_id = :number and e.id = {} and :text = ''", id), job, {}};
}

Which entry_under(long long job, const std::string& client_key) {
    return {"e.job_id = :number and e.client_key = :text", job, client_key};
}

void each_entry(Sql& sql, const Which& which, const std::function<void(const EntryRow&)>& each) {
    EntryRow row;
    EntryFacts& f = row.facts;
    NullableNumber said, corrects, read_by;
    NullableText digest, reader;
    long long withdrawn = 0, repeat = 0;
    soci::statement rows =
        (sql.prepare
             << "select e.id, e.job_id, e.sequence, e.made_by, p.name, e.made_ms, e.said_ms, "
                "e.corrects, e.is_withdrawn, e.is_repeat, e.client_key, e.kind, e.head, e.valve, "
                "e.content, e.units, e.reason, e.read_by, r.name, d.digest from entry e join person "
                "p on p.id = e.made_by left join person r on r.id = e.read_by left join entry_digest d on "
                "d.entry_id = e.id and d.job_id = e.job_id where " +
                    which.condition + " order by e.job_id, e.sequence",
         soci::use(which.number), soci::use(which.text), soci::into(row.id), soci::into(f.job),
         soci::into(f.sequence), soci::into(f.made_by), soci::into(row.by), soci::into(f.made_ms),
         soci::into(said.value, said.state), soci::into(corrects.value, corrects.state),
         soci::into(withdrawn), soci::into(repeat), soci::into(f.client_key), soci::into(f.kind),
         soci::into(f.head), soci::into(f.valve), soci::into(f.content), soci::into(f.units),
         soci::into(f.reason), soci::into(read_by.value, read_by.state),
         soci::into(reader.value, reader.state), soci::into(digest.value, digest.state));
    rows.execute();
    while (rows.fetch()) {
        f.said_ms = said.get();
        f.corrects = corrects.get();
        f.withdrawn = withdrawn != 0;
        f.repeat = repeat != 0;
        f.read_by = read_by.get();
        row.read_by = reader.get().value_or("");
        row.digest = digest.get();
        each(row);
    }
}

std::optional<EntryRow> first_entry(Sql& sql, const Which& which) {
    std::optional<EntryRow> found;
    each_entry(sql, which, [&](const EntryRow& row) {
        if (!found) found = row;
    });
    return found;
}

std::vector<long long> jobs_with_entries(Sql& sql) {
    std::vector<long long> all;
    long long job = 0;
    soci::statement rows = (sql.prepare << "select id from job where sequence > 0 union select job_id from "
                                           "entry order by 1",
                            soci::into(job));
    rows.execute();
    while (rows.fetch()) all.push_back(job);
    return all;
}

}  // namespace seatwright::store
