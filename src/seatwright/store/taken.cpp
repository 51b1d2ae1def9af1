#include "seatwright/store/taken.hpp"

#include <fmt/format.h>

#include "seatwright/store/columns.hpp"
#include "seatwright/store/ledger.hpp"

namespace seatwright::store {

void Taken::note(const Person& by, long long job, const std::string& file, const std::string& sha256) {
    const auto known = [&](Sql& sql) {
        int count = 0;
        sql << "select count(*) from program_taken where job_id = :job and file_name = :file and sha256 = "
               ":sha and "
               "made_by = :by",
            soci::use(job), soci::use(file), soci::use(sha256), soci::use(by.id), soci::into(count);
        return count > 0;
    };
    if (database_.read(known)) return;
    database_.write([&](Sql& sql) {
        if (known(sql)) return;
        const long long now = now_ms();
        sql << "insert into program_taken (job_id, file_name, sha256, made_ms, made_by) values (:job, :file, "
               ":sha, "
               ":now, :by)",
            soci::use(job), soci::use(file), soci::use(sha256), soci::use(now), soci::use(by.id);
        store::note(sql, {by.id, job, {}, {}},
                    fmt::format("took {} (SHA-256 {})", file, sha256.substr(0, 16)));
    });
}

std::optional<TakenProgram> Taken::first(long long job) {
    return database_.read([&](Sql& sql) -> std::optional<TakenProgram> {
        TakenProgram taken;
        sql << "select t.file_name, t.sha256, p.name, t.made_ms from program_taken t join person p on p.id = "
               "t.made_by where t.job_id = :job order by t.id limit 1",
            soci::use(job), soci::into(taken.file), soci::into(taken.sha256), soci::into(taken.by),
            soci::into(taken.at_ms);
        if (!sql.got_data()) return std::nullopt;
        return taken;
    });
}

}  // namespace seatwright::store
