#include "seatwright/store/open_limits.hpp"

#include "seatwright/store/ledger.hpp"

namespace seatwright::store {

namespace {

std::optional<std::string> open_in(Sql& sql, long long job) {
    std::string words;
    sql << "select o.words from limits_open o where o.job_id = :job and not exists (select 1 from "
           "limits_accepted a "
           "where a.job_id = o.job_id)",
        soci::use(job), soci::into(words);
    return sql.got_data() ? std::optional(words) : std::nullopt;
}

}  // namespace

void leave_open(Sql& sql, long long job, const std::string& words) {
    sql << "insert into limits_open (job_id, words) values (:job, :words)", soci::use(job), soci::use(words);
}

std::optional<std::string> OpenLimits::of(long long job) {
    return database_.read([&](Sql& sql) { return open_in(sql, job); });
}

Answer<bool> OpenLimits::accept(const Person& by, long long job) {
    return database_.write([&](Sql& sql) -> Answer<bool> {
        const auto words = open_in(sql, job);
        if (!words) return refuse(Why::not_found, "no limits of this job wait to be accepted");
        const long long now = now_ms();
        sql << "insert into limits_accepted (job_id, made_ms, made_by) values (:job, :now, :by)",
            soci::use(job), soci::use(now), soci::use(by.id);
        note(sql, {by.id, job, {}, {}}, "accepted the job's own limits: " + *words);
        return true;
    });
}

}  // namespace seatwright::store
